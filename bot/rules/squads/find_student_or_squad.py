"""Finding a student or a squad by a few letters: which names fit, which come first; a squad by its number or name."""

from collections.abc import Iterable, Sequence
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


def squad_called(typed: str, squads: Sequence[Squad]) -> Squad | None:
    """The squad of that number, or else with that number and name, or else of that name; None where there is none.

    A number is the number of a squad, whatever another one calls itself.
    """
    said = typed.strip().casefold()
    by_name = [
        *((str(one.number), one) for one in squads),
        *((f"{one.number} {one.name}", one) for one in squads),
        *((one.name, one) for one in squads),
    ]
    return next((one for name, one in by_name if name.casefold() == said), None)


def _order(name: str, said: str) -> tuple[bool, str]:
    begins = (name.casefold(), *name.casefold().split())
    return not any(word.startswith(said.casefold()) for word in begins), name.casefold()
