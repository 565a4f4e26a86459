"""A form that opens with a stored text: when whoever sends it is too late, and whom they read to have changed it."""

from collections.abc import Collection
from typing import Literal

Group = Literal["officers", "judges", "students", "own squad"]
"""People whom somebody may read by name; of an own squad the other members."""


def is_same(text: str, other: str) -> bool:
    """Whether two texts are the same but for spaces and line breaks."""
    return text.split() == other.split()


def is_overtaken(opened_with: str, stands: str, *, differs: bool) -> bool:
    """Whether sending a form would undo what somebody has changed since it was opened.

    `opened_with` and `stands` are digests of what it opened with and of what stands now; `differs` says whether what
    was typed is something else than what stands.
    """
    return opened_with != stands and differs


def read_by_name(held: Collection[str]) -> frozenset[Group]:
    """Whom somebody with these roles may read by name: a coach everybody, who works at a table those who run it."""
    if "coach" in held:
        return frozenset(("officers", "judges", "students"))
    return frozenset(("officers",)) if "recorder" in held else frozenset(("own squad",))
