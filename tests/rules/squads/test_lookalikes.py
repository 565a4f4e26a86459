"""Look-alikes, checked against Unicode's own data.

`data/confusables-13.0.0.txt` is https://www.unicode.org/Public/security/13.0.0/confusables.txt without its comments
(Unicode licence, see the file's head).
"""

from pathlib import Path
from unicodedata import normalize

import pytest

from bot.rules.squads.lookalikes import is_invisible, skeleton
from bot.rules.squads.names import alike, name_keys

CONFUSABLES = Path(__file__).parents[1] / "data" / "confusables-13.0.0.txt"

PAIRS = [  # reference value G4: name, name, same after NFKC and case folding, same skeleton, same folded skeleton
    ("paypal", "\u0440\u0430\u0443\u0440\u0430l", False, True, True),
    ("scope", "\u0455\u0441\u043e\u0440\u0435", False, True, True),
    ("Arnica", "Amica", False, True, True),
    ("Team 1", "Team l", False, True, True),
    ("Rob0ts", "Robots", False, False, True),
    ("Circle", "\u0421ircle", False, True, True),
    ("Robo Rams", "Robo\u00a0Rams", True, True, True),
    ("Bolt", "Bo\u200blt", False, True, True),
    ("vvin", "win", False, False, False),
    ("Rams", "Ramps", False, False, False),
]
"""G4 also has `Robo Rams` with two spaces: there they differ before white space is collapsed, which ours always is."""


def unicode_table() -> dict[str, str]:
    """Unicode's confusables: each source character with its prototype."""
    table = {}
    for line in CONFUSABLES.read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            source, prototype = ("".join(chr(int(point, 16)) for point in part.split()) for part in line.split(";"))
            table[source] = prototype
    return table


def unicode_skeleton(text: str, table: dict[str, str]) -> str:
    """UTS #39, section 4, repeated until nothing changes: a few prototypes in the table hold sources again."""
    shown = (character for character in normalize("NFD", text) if not is_invisible(character))
    drawn = normalize("NFD", "".join(table.get(character, character) for character in shown))
    return drawn if drawn == text else unicode_skeleton(drawn, table)


@pytest.mark.parametrize(("one", "other", "same_folding", "same_skeleton", "same_folded_skeleton"), PAIRS)
def test_pairs_of_the_reference_are_told_apart_as_it_says(
    one: str, other: str, same_folding: bool, same_skeleton: bool, same_folded_skeleton: bool
) -> None:
    (folded, look, _), (other_folded, other_look, _) = name_keys(one), name_keys(other)
    assert (folded == other_folded) == same_folding
    assert (skeleton(one) == skeleton(other)) == same_skeleton
    assert (look == other_look) == same_folded_skeleton
    assert alike(one, other) == (same_folding or same_skeleton or same_folded_skeleton)


def test_two_spaces_look_like_one() -> None:
    assert name_keys("Robo Rams") == name_keys("Robo  Rams")


def test_our_skeletons_group_all_texts_just_as_those_of_unicode_do() -> None:
    table = unicode_table()
    assert len(table) == 6311  # the total that the file itself states
    # Separators (white space, collapsed before), and one sign whose entry in the library lost its tab.
    texts = {*table, *table.values(), *map(chr, range(0x20, 0x250))} - {"\u2028", "\u2029", "\U0001f16d"}
    ours: dict[str, set[str]] = {}
    theirs: dict[str, set[str]] = {}
    for text in texts:
        ours.setdefault(skeleton(text), set()).add(text)
        theirs.setdefault(unicode_skeleton(text, table), set()).add(text)
    only_theirs = {frozenset(group) for group in theirs.values()} - {frozenset(group) for group in ours.values()}
    # Unicode lists these three pairs, but its own NFD takes the first of each apart before the look-up; ours sees them.
    assert only_theirs == {frozenset(character) for character in "ṃꭑņɲῶᏯ"}


def test_a_skeleton_is_its_own_skeleton() -> None:
    for text in unicode_table():
        assert skeleton(skeleton(text)) == skeleton(text)
