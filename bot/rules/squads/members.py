"""The members of squads: in which order they stand in lists, how many more there may be, who is told who came."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import Literal

from storage.records.people import Squad, Student

Way = Literal["join", "place"]
"""How a student comes into a squad: by an own choice, or placed by the coach."""
TOLD_IN_ROOM: tuple[Way, ...] = ("join", "place")
"""In which of these ways somebody comes so that the squad's room reads it."""


def by_squad(squads: Iterable[Squad], students: Iterable[Student]) -> list[tuple[Squad | None, list[Student]]]:
    """Every squad by number, with its members as they joined; then those without one (under None) as they came."""
    grouped: dict[int | None, list[Student]] = defaultdict(list)
    for one in students:
        grouped[one.squad_id].append(one)
    rows: list[tuple[Squad | None, list[Student]]] = [
        (squad, as_they_joined(grouped[squad.id])) for squad in sorted(squads, key=lambda one: one.number)
    ]
    return [*rows, (None, grouped[None])]


def as_they_joined(members: Iterable[Student]) -> list[Student]:
    """The members of a squad wherever they are listed: who joined first stands first."""
    return sorted(members, key=lambda one: (one.joined_at is not None, one.joined_at, one.id))


def free_seats(members: Sequence[Student], largest: int) -> int:
    """How many more members a squad may have; none where the coach has let it grow beyond the plan."""
    return max(0, largest - len(members))
