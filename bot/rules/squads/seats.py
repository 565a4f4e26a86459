"""Seats in squads: in which order members stand, and which squads have free ones."""

from collections import defaultdict
from collections.abc import Iterable, Sequence

from storage.records.people import Squad, Student


def by_squad(squads: Iterable[Squad], students: Iterable[Student]) -> list[tuple[Squad | None, list[Student]]]:
    """Every squad with its members as they joined, then the students without one (under None) as they came."""
    grouped: dict[int | None, list[Student]] = defaultdict(list)
    for one in students:
        grouped[one.squad_id].append(one)
    rows: list[tuple[Squad | None, list[Student]]] = [
        (squad, sorted(grouped[squad.id], key=lambda one: (one.joined_at, one.id))) for squad in squads
    ]
    return [*rows, (None, grouped[None])]


def free_seats(members: Sequence[Student], largest: int) -> int:
    """How many more members a squad may have; none where the coach has let it grow beyond the plan."""
    return max(0, largest - len(members))


def with_free_seats(sizes: Iterable[tuple[Squad, int]], largest: int) -> list[tuple[Squad, int]]:
    """Of squads with their numbers of members those that can take more, each with how many, in the same order."""
    return [(squad, largest - members) for squad, members in sizes if members < largest]
