"""A squad as the coach looks after it: who could still come into it, and that nobody in a squad is filled in."""

from collections.abc import Iterable, Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Squad, Student


def free_seats(members: Sequence[Student], largest: int) -> int:
    """How many more members a squad may have; none where the coach has let it grow beyond the plan."""
    return max(0, largest - len(members))


def could_come(squad: Squad, free: int, students: Iterable[Student]) -> list[Student]:
    """Who is offered to fill a squad with a free seat: students of its section who have no squad."""
    return [one for one in students if one.squad_id is None and one.section == squad.section] if free else []


def check_has_no_squad(one: Student, squad: Squad | None) -> None:
    """Only who has no squad is filled in; `squad` is the one a student has. Raises Refusal `same_squad`."""
    if squad is not None:
        raise Refusal(Reason.SAME_SQUAD, student=one.name, squad=squad.name)
