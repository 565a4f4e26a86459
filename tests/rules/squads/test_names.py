"""Names: what may be one, and when two are the same."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.names import LONGEST, alike, check_person_name, check_squad_name, name_keys, tidy_name

GOOD = [
    "Bo",
    "Crunchy Clouds",
    "Zoë-Anne O’Hara",
    "Müller & Söhne",
    "7B Rockets!",
    "Привет",
    "چیستان",
    "می‌خواهم",  # a zero-width non-joiner is part of this Persian word
    "क्षितिज",
    "한국",
    "👩‍🚀 Ada",  # a zero-width joiner makes one emoji of two
    "Team ❤️",
    "r" * LONGEST,
    "🚀" * 39 + "r",
    "👨‍👩‍👧‍👦" * 7 + "rrr",  # 80 UTF-16 units
]


@pytest.mark.parametrize("name", GOOD)
def test_an_honest_name_stays_as_it_is(name: str) -> None:
    assert check_squad_name(name, []) == tidy_name(name)
    assert check_person_name(name) == tidy_name(name)


REFUSED = {
    "name_short": ["", " ", "x", " e\u0301 "],
    "name_long": ["r" * 41, "👨‍👩‍👧‍👦" * 7 + "rrrr"],
    "name_markup": [
        "@everyone",
        "<@&4>",
        "**loud**",
        "a_b",
        "`code`",
        "||secret||",
        "~~gone~~",
        "＠here",
        "# Big",
        "[x](y)",
    ],
    "name_link": ["http://x.y", "www.robots", "WWW.robots", "discord.gg/abc", "ｈｔｔｐ：／／x"],
    "name_hidden": [
        "Bo\u200blt",  # zero-width space
        "Bolt\u202egnol",  # right-to-left override
        "Bo\x00lt",
        "Bo\u00adlt",  # soft hyphen
        "Bo\u3164lt",  # Hangul filler, a letter that shows nothing
        "Bo\u2800lt",  # braille without a dot
        "\u200dBolt",
        "Bolt\u200d",
        "Bo\u200d\u200dlt",
        "Bolt\ue000",  # private use: looks different on every phone
        "Bolt\U000e0041",  # tag character
    ],
    "name_marks": ["H\u0335\u0322\u034a\u0351\u0352i"],
    "name_letters": ["🚀🚀", "?!", "--"],
}


@pytest.mark.parametrize(("reason", "name"), [(reason, name) for reason, names in REFUSED.items() for name in names])
def test_a_name_that_harms_or_hides_is_refused_with_its_reason(reason: str, name: str) -> None:
    for check in (check_person_name, lambda typed: check_squad_name(typed, [])):
        with pytest.raises(Refusal) as refused:
            check(name)
        assert refused.value.reason == reason


def test_a_refusal_for_length_says_which_lengths_are_right() -> None:
    with pytest.raises(Refusal) as refused:
        check_person_name("x")
    assert refused.value.fields == {"shortest": 2, "longest": 40}


def test_white_space_and_compatibility_forms_are_tidied() -> None:
    assert check_squad_name("  Ｃrunchy \u00a0\t Clouds ", []) == "Crunchy Clouds"


@pytest.mark.parametrize(
    ("name", "taken"),
    [("crunchy clouds", "Crunchy Clouds"), ("Crunchy  Clouds", "Crunchy Clouds"), ("Сrunchy Clouds", "Crunchy Clouds"),
     ("Rob0ts", "Robots"), ("lI", "Il"), ("TEAM 1", "Team l"), ("STRASSE", "straße"), ("İzmir", "i̇zmir")],
)  # fmt: skip
def test_a_squad_cannot_look_like_another(name: str, taken: str) -> None:
    with pytest.raises(Refusal) as refused:
        check_squad_name(name, ["Someone Else", taken])
    assert refused.value.reason == Reason.NAME_TAKEN
    assert refused.value.fields["other"] == taken


def test_a_different_name_is_free() -> None:
    assert check_squad_name("Ramps", ["Rams", "vvin"]) == "Ramps"
    assert check_squad_name("Tall Spin", ["Tail Spin"]) == "Tall Spin"


@given(st.text(min_size=1, max_size=30))
def test_the_keys_of_a_key_are_itself(name: str) -> None:
    folded, look, _ = name_keys(name)
    assert name_keys(folded)[:2] == (folded, look)


@given(st.text(max_size=60))
def test_any_text_is_refused_or_becomes_a_name_that_stays(typed: str) -> None:
    try:
        name = check_person_name(typed)
    except Refusal:
        return
    assert check_person_name(name) == name
    assert len(name.encode("utf-16-le")) // 2 <= 80
    assert not set(name) & set("@#<>`*_~|\\[]\n\r\t")


@given(
    st.text(alphabet="abILl10oO mrn", min_size=2, max_size=8), st.text(alphabet="abILl10oO mrn", min_size=2, max_size=8)
)
def test_looking_alike_goes_both_ways_and_holds_for_a_name_itself(one: str, other: str) -> None:
    assert alike(one, one)
    assert alike(one, other) == alike(other, one)
    if name_keys(one)[0] == name_keys(other)[0] or name_keys(one)[1] == name_keys(other)[1]:
        assert alike(one, other)
