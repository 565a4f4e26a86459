"""The coach places a student: in which order squads are offered."""

from collections.abc import Sequence

from storage.records.people import Squad, Student
from storage.records.plan import Plan


def in_order(one: Student, sizes: Sequence[tuple[Squad, int]], plan: Plan) -> list[tuple[Squad, int]]:
    """The squads that a student could go to, with their members: of the own section with a free seat first."""
    elsewhere = [(squad, members) for squad, members in sizes if squad.id != one.squad_id]
    largest = plan.squads.largest
    return sorted(elsewhere, key=lambda row: row[0].section != one.section or row[1] >= largest)
