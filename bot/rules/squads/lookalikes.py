"""What a name looks like: skeletons after Unicode Technical Standard #39, section 4."""

import json
from array import array
from bisect import bisect_left
from collections.abc import Mapping
from functools import cache, lru_cache
from importlib.resources import files
from itertools import accumulate
from unicodedata import category, normalize

_LEFT_TO_RIGHT_MARK = "\u200e"
"""Stands around the characters of right-to-left scripts in the library's table and belongs to none of them."""
_INVISIBLE = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u180b\u180c\u180d\u180f\u3164\uffa0")
"""Default-ignorable characters that are letters or marks by category (DerivedCoreProperties.txt)."""


@lru_cache(maxsize=4096)
def skeleton(text: str) -> str:
    """What `text` looks like: two texts with one skeleton can be mistaken for each other.

    NFD, default-ignorable characters dropped, each character replaced by its prototype, NFD again, until nothing
    changes. For comparing only, never for display: where Unicode's table pairs two single characters with nothing
    else, either may stand for both here.
    """
    prototypes = _prototypes()
    before, now = "", text
    while now != before:
        before = now
        if not now.isascii():
            now = "".join(c for c in normalize("NFD", now) if not is_invisible(c))
        now = normalize("NFD", now.translate(prototypes))
    return now


def read_table() -> None:
    """Have Unicode's table at hand, for which the first skeleton would wait; the memory this takes is free again."""
    _prototypes()


def is_invisible(character: str) -> bool:
    """Whether a character shows nothing by itself: format characters, variation selectors, fillers, tags."""
    return (
        category(character) == "Cf"
        or character in _INVISIBLE
        or "\ufe00" <= character <= "\ufe0f"
        or "\U000e0000" <= character <= "\U000e0fff"
    )


class _Prototypes:
    """What stands for all that look like a character, by the character's number; in a tenth of the room of a dict."""

    def __init__(self, found: Mapping[int, str]) -> None:
        self._numbers = array("L", sorted(found))
        self._texts = "".join(found[number] for number in self._numbers)
        self._begins = array("L", accumulate((len(found[number]) for number in self._numbers), initial=0))

    def __getitem__(self, number: int) -> str:
        """For `str.translate`, which takes LookupError for a character that stays as it is."""
        at = bisect_left(self._numbers, number)
        if at == len(self._numbers) or self._numbers[at] != number:
            raise LookupError(number)
        return self._texts[self._begins[at] : self._begins[at + 1]]


@cache
def _prototypes() -> _Prototypes:
    """Unicode's confusable characters by number, each with the text that stands for all that look like it.

    The library lists every pair in both directions, so a character with one partner is the copy, and the partner,
    which has many, the prototype; of a lone pair the later is the copy, if NFD leaves it whole. About 20 ms, once;
    the library itself is not imported, as it would keep its whole table in memory.
    """
    table = files("confusable_homoglyphs").joinpath("confusables.json").read_text("utf-8")
    partners: dict[str, set[str]] = {}
    for character, entries in json.loads(table, object_hook=_partner_only).items():
        key = character.replace(_LEFT_TO_RIGHT_MARK, "")
        partners.setdefault(key, set()).update(entry.replace(_LEFT_TO_RIGHT_MARK, "") for entry in entries)
    prototypes: dict[int, str] = {}
    for character, others in partners.items():
        if len(character) == 1 and len(others) == 1 and _is_whole(character):
            (other,) = others
            if len(partners[other]) > 1 or not _is_whole(other) or other < character:
                prototypes[ord(character)] = other
    return _Prototypes(prototypes)


def _partner_only(entry: dict[str, object]) -> object:
    """Keep the character of one library entry, drop its long Unicode name; leave the table itself as it is."""
    return entry["c"] if entry.keys() == {"c", "n"} else entry


def _is_whole(text: str) -> bool:
    """Whether `text` is one character that NFD does not take apart, so that it can be looked up after NFD."""
    return len(text) == 1 and normalize("NFD", text) == text
