"""The coach places a student: in which order squads are offered, and never the own one."""

from collections.abc import Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Squad, Student
from storage.records.plan import Plan


def in_order(one: Student, sizes: Sequence[tuple[Squad, int]], plan: Plan) -> list[tuple[Squad, int]]:
    """The squads that a student could go to, with their members: of the own section with a free seat first."""
    elsewhere = [(squad, members) for squad, members in sizes if squad.id != one.squad_id]
    largest = plan.squads.largest
    return sorted(elsewhere, key=lambda row: row[0].section != one.section or row[1] >= largest)


def check_elsewhere(one: Student, squad: Squad) -> None:
    """A student is placed in another squad than the own one. Raises Refusal `same_squad` (student, squad)."""
    if one.squad_id == squad.id:
        raise Refusal(Reason.SAME_SQUAD, student=one.name, squad=squad.name)
