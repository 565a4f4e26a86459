"""Names of squads and people: what may be one, and when two are the same."""

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple
from unicodedata import category, normalize

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.lookalikes import is_invisible, skeleton

SHORTEST = 2
LONGEST = 40
"""In grapheme clusters: what a person counts as characters (UAX #29)."""
LONGEST_UNITS = 80
"""In UTF-16 units: a name with its section must fit the 100 of a thread's name and of a choice in a list."""

_MARKUP = frozenset("@#<>[]*_~|`\\")
_LINK = re.compile(r"://|\bwww\.|\bdiscord\.gg\b", re.IGNORECASE)
_TALL_STACK = re.compile(r"\^{4}")
"""Four or more accents on one letter: they run into the lines above and below."""
_EMOJI_STYLE = "\ufe0f"
_JOINERS = frozenset(("\u200c", "\u200d", _EMOJI_STYLE))
"""Join letters in some scripts and the parts of an emoji; invisible, but right inside a name."""
_BLANKS = frozenset("\u2800\ufffc\ufffd")
"""Shown as nothing or as a box, whatever their category says."""


def tidy_name(typed: str) -> str:
    """A name as it is kept and shown: NFKC, white space collapsed to single spaces and stripped."""
    return " ".join(normalize("NFKC", typed).split())


class NameKeys(NamedTuple):
    """What names are compared by: those of two squads of a try-out share none of them."""

    folded: str
    """NFKC, case folding, NFKC again, white space collapsed."""
    look: str
    """What that looks like: its skeleton, folded and drawn again, so that 0, O and o meet."""
    written_look: str
    """What the name looks like as it is written, so that lI and Il meet."""


@lru_cache(maxsize=4096)
def name_keys(name: str) -> NameKeys:
    """The keys of a name, tidy or as it was typed."""
    tidy = tidy_name(name)
    folded = tidy_name(tidy.casefold())
    return NameKeys(folded, skeleton(skeleton(folded).casefold()), skeleton(tidy))


def alike(one: str, other: str) -> bool:
    """Whether two names are the same or can be mistaken for each other, in either case of letters."""
    return any(mine == theirs for mine, theirs in zip(name_keys(one), name_keys(other), strict=True))


def check_squad_name(typed: str, taken: Iterable[str]) -> str:
    """The tidied name of a squad that is none of the `taken` names and looks like none of them.

    Of these only the ones that share a key of the name need be given (`squads.namesakes`).

    Raises Refusal: `name_short`, `name_long` (shortest, longest), `name_markup` (character), `name_link`,
    `name_hidden`, `name_marks`, `name_letters`, `name_taken` (name, other).
    """
    name = _check(typed)
    for other in taken:
        if alike(name, other):
            raise Refusal(Reason.NAME_TAKEN, name=name, other=other)
    return name


def check_person_name(typed: str) -> str:
    """The tidied name of a student, judge or helper; two people may share one. Raises as `check_squad_name` does."""
    return _check(typed)


def _check(typed: str) -> str:
    name = tidy_name(typed)
    plain = name.isascii() and name.isprintable()
    if not plain and any(is_hidden(name, place) for place in range(len(name))):
        raise Refusal(Reason.NAME_HIDDEN)
    markup = next((character for character in name if character in _MARKUP), None)
    if markup:
        raise Refusal(Reason.NAME_MARKUP, character=markup)
    if _LINK.search(name):
        raise Refusal(Reason.NAME_LINK)
    if not plain and _TALL_STACK.search(_accents(name)):
        raise Refusal(Reason.NAME_MARKS)
    length = _clusters(name)
    if length < SHORTEST:
        raise Refusal(Reason.NAME_SHORT, shortest=SHORTEST, longest=LONGEST)
    if length > LONGEST or len(name.encode("utf-16-le")) > 2 * LONGEST_UNITS:
        raise Refusal(Reason.NAME_LONG, shortest=SHORTEST, longest=LONGEST)
    if not any(character.isalnum() for character in name):
        raise Refusal(Reason.NAME_LETTERS)
    return name


def _accents(name: str) -> str:
    """A ^ for each accent, a space for everything else."""
    return "".join("^" if category(c) in ("Mn", "Me") else " " for c in normalize("NFD", name))


def is_hidden(name: str, place: int) -> bool:
    """Whether the character at `place` is a control character or one that nobody can see.

    What joins is right between the parts of an emoji, and between letters of the scripts that need it.
    """
    character = name[place]
    if character in _JOINERS:
        before, after = name[place - 1 : place], name[place + 1 : place + 2]
        if character == _EMOJI_STYLE:
            return not before or before.isspace()
        return before.isascii() or after.isascii() or after in _JOINERS
    return character in _BLANKS or is_invisible(character) or category(character) in ("Cc", "Cs", "Co", "Zl", "Zp")


def _clusters(name: str) -> int:
    """The number of grapheme clusters."""
    if name.isascii():
        return len(name)
    import regex

    return len(regex.findall(r"\X", name))
