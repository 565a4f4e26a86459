"""People's words made harmless: one function for all of them, and labels measured as the platform may measure them."""

import re
from unicodedata import category

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.words.core.plain_text import as_sentence, cut, escape, unescaped, units, visible, with_bold

DIRECTION = "\u200e\u200f\u061c\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""The characters of Unicode's bidirectional algorithm that nobody sees (UAX #9, table 1)."""
NOTHING = "\u200b\u2060\ufeff\u00ad\u180e\u034f\u3164\U000e0041"
texts = st.text() | st.text(
    alphabet=st.sampled_from([*DIRECTION, *NOTHING, *"ab @:/<>*_`|\n\r\x1b\u2028😀\u200d\ufe0fनी"])
)


@given(texts)
def test_what_was_escaped_reads_on_paper_as_it_was_typed(text: str) -> None:
    typed = visible(text)
    if "\\" not in typed:
        assert unescaped(escape(text)) == typed


@given(texts)
def test_no_character_that_turns_or_hides_survives(text: str) -> None:
    for made in (visible(text), escape(text), cut(text, 1000)):
        assert not set(made) & {*DIRECTION, *NOTHING}
        assert all(char in "\n\t" or category(char) not in ("Cc", "Cs", "Zl", "Zp") for char in made)


@given(texts)
def test_a_text_in_which_nothing_is_hidden_is_read_as_one_that_ends_in_something_hidden(text: str) -> None:
    """The first needs no look at each place."""
    assert visible(text + "\u200b") == visible(text)


@given(texts)
def test_whatever_is_escaped_is_no_link_no_mention_and_no_markup(text: str) -> None:
    made = escape(text)
    assert "://" not in made
    assert not re.search(r"(?<!\\)(?:\\\\)*[*_~`|>#<@\[\]]", made)


@given(texts.map(visible))
def test_nothing_that_can_be_seen_is_lost(text: str) -> None:
    assert visible(text) == text
    assert re.sub(r"\\(.)", r"\1", escape(text), flags=re.DOTALL).replace("\\", "") == text.replace("\\", "")


@given(texts, st.integers(2, 120))
def test_a_label_is_no_longer_than_allowed_in_the_largest_of_measures(text: str, most: int) -> None:
    made = cut(text, most)
    assert len(made) <= units(made) <= most
    assert made or not text


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("see https://evil.example/a", r"see https:\//evil.example/a"),
        ("WWW.evil.example, Discord.gg/x", r"WWW\.evil.example, Discord\.gg/x"),
        ("a\u200bb \u202egnp.exe", "ab gnp.exe"),
        ("👩‍👩‍👧 and क्‍ष", "👩‍👩‍👧 and क्‍ष"),
        ("a\u200db", "ab"),
        ("two\r\nlines\u2028three", "two\nlines\nthree"),
    ],
)
def test_examples(typed: str, shown: str) -> None:
    assert escape(typed) == shown


def test_emoji_count_twice_and_are_never_cut_in_half() -> None:
    assert units("😀" * 50) == 100
    assert cut("😀" * 51, 100) == "😀" * 49 + "…"
    assert cut("\u200b", 10) == "…"
    assert [cut("Socks", most) for most in (2, 1, 0, -1)] == ["S…", "…", "", ""]
    assert cut("\u200b", 0) == ""


@pytest.mark.parametrize(
    ("typed", "reads"),
    [
        ("**The task.** Two socks", "**The task.** Two socks"),
        ("**[x](https://x.example)**", "**\\[x\\](https:\\//x.example)**"),
        ("2 ** 3 and ** 4", "2 \\*\\* 3 and \\*\\* 4"),
        ("**over\ntwo lines**", "\\*\\*over\ntwo lines\\*\\*"),
    ],
)
def test_in_the_long_texts_of_a_plan_bold_is_bold_and_all_else_is_as_it_was_typed(typed: str, reads: str) -> None:
    assert with_bold(typed) == reads
    assert unescaped(reads) == typed


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("ill", "ill."),
        ("ill.", "ill."),
        ("Was it?", "Was it?"),
        ("no *robot*! ", "no \\*robot\\*!"),
        ("and so…", "and so…"),
    ],
)
def test_a_sentence_ends_with_one_mark(typed: str, shown: str) -> None:
    assert as_sentence(typed) == shown
