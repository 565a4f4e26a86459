"""The lot that anyone can recheck: RFC 3797's own example with its digest, and ours."""

from collections import Counter
from hashlib import md5, sha256

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.practice.random_draw import draw, key_text, number_of, sha256_digest
from tests.rules.reference import reference

E4 = reference("E4")


def md5_digest(data: bytes) -> bytes:
    """RFC 3797's digest."""
    return md5(data, usedforsecurity=False).digest()


def test_with_md5_the_numbers_of_rfc_3797_come_out() -> None:
    key = E4["input"]["key"]
    found = [f"{number_of(place, key, md5_digest):032X}" for place in range(3)]
    assert found == E4["expected"]["md5"] == E4["published"]["md5"]


def test_with_md5_the_picks_of_rfc_3797_come_out() -> None:
    pool = range(1, E4["input"]["pool"] + 1)
    assert list(draw(pool, E4["input"]["key"], E4["input"]["pick"], md5_digest)) == E4["expected"]["selected"]


def test_the_key_is_written_as_in_rfc_3797_whatever_order_the_numbers_come_in() -> None:
    sources = [["9319"], ["12", "2", "8", "5", "10"], ["45", "9", "18", "26", "34", "41"]]
    assert key_text(sources) == E4["input"]["key"]


def test_ours_is_the_same_way_with_sha_256() -> None:
    key = "4.4.1.6.2./"
    first = int.from_bytes(sha256(b"\0\0" + key.encode() + b"\0\0").digest())
    assert number_of(0, key) == first
    assert draw(("a", "b", "c"), key)[0] == "abc"[first % 3]
    assert draw(("a", "b", "c"), key) == draw(("a", "b", "c"), key, digest=sha256_digest)


@given(st.lists(st.integers(), max_size=40, unique=True), st.text(max_size=30))
def test_everybody_is_drawn_once_and_a_shorter_draw_begins_alike(pool: list[int], key: str) -> None:
    order = draw(pool, key)
    assert sorted(order) == sorted(pool)
    assert draw(pool, key, len(pool) // 2) == order[: len(pool) // 2]


def test_over_many_keys_nobody_is_favoured() -> None:
    firsts = Counter(draw(range(7), f"{number}./")[0] for number in range(7000))
    # A fair share is 1000 each; five standard deviations are 146.
    assert all(abs(firsts[one] - 1000) < 146 for one in range(7))


@pytest.mark.parametrize("count", [-1, 4])
def test_no_more_can_be_drawn_than_there_are(count: int) -> None:
    with pytest.raises(ValueError, match="cannot be drawn"):
        draw("abc", "key", count)
