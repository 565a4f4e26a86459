"""Finding a student or a squad by a few letters: how many, which names fit, and which come first."""

from collections.abc import Iterable
from typing import Final

from storage.records.people import Squad, Student

SHORTEST: Final = 1
LONGEST: Final = 100
"""Letters that are typed to find somebody, in the form and with the command."""


def fits(name: str, said: str) -> bool:
    """Whether a name holds these letters, in either case."""
    return said.casefold() in name.casefold()


def students_in_order(found: Iterable[tuple[Student, Squad | None]], said: str) -> list[tuple[Student, Squad | None]]:
    """The students who fit, before the squads: those whose name has a word that begins so first, then by name."""
    return sorted((row for row in found if fits(row[0].name, said)), key=lambda row: _order(row[0].name, said))


def squads_in_order(found: Iterable[Squad], said: str) -> list[Squad]:
    """The squads that fit, after the students, in the same order."""
    return sorted((one for one in found if fits(one.name, said)), key=lambda one: _order(one.name, said))


def _order(name: str, said: str) -> tuple[bool, str]:
    begins = (name.casefold(), *name.casefold().split())
    return not any(word.startswith(said.casefold()) for word in begins), name.casefold()
