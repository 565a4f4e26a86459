"""Join codes: read out in a noisy room, typed on a phone."""

from hypothesis import given
from hypothesis import strategies as st

from bot.rules.squads.join_and_link_codes import (
    JOIN_CODE_LETTERS,
    LETTER_BITS,
    LETTERS,
    join_code,
    link_code,
    tidy_code,
)

BITS = LETTER_BITS * JOIN_CODE_LETTERS


def test_no_letter_can_make_a_word_or_be_mistaken_for_a_digit() -> None:
    assert len(set(LETTERS)) == 16
    assert not set(LETTERS) & set("AEIOUY0125689IOQ")


@given(st.integers(min_value=0, max_value=2**BITS - 1), st.integers(min_value=0, max_value=2**BITS - 1))
def test_each_number_has_its_own_code(one: int, other: int) -> None:
    assert (join_code(one) == join_code(other)) == (one == other)
    assert len(join_code(one)) == 5
    assert set(join_code(one)) <= set(LETTERS)


def test_codes_run_through_the_letters_like_a_counter() -> None:
    assert [join_code(bits) for bits in (0, 1, 16, 2**20 - 1)] == ["BBBBB", "BBBBC", "BBBCB", "ZZZZZ"]
    assert [link_code(bits) for bits in (0, 1, 2**32 - 1)] == ["BBBBBBBB", "BBBBBBBC", "ZZZZZZZZ"]


@given(st.integers(min_value=0))
def test_only_the_lowest_bits_count(bits: int) -> None:
    assert join_code(bits) == join_code(bits % 2**BITS)


def test_a_code_may_be_typed_carelessly() -> None:
    assert tidy_code(" bcd-hj ") == tidy_code("B C D H J") == "BCDHJ"
