"""A squad as the coach looks after it: that it takes part, until when it can be taken out, who could come into it."""

from collections.abc import Iterable

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Squad, Student


def check_takes_part(squad: Squad | None, tryout_id: int) -> Squad:
    """A squad that takes part in this try-out: there, of it, and not taken out. Raises Refusal `squad_withdrawn`."""
    if squad is None or squad.withdrawn or squad.tryout_id != tryout_id:
        raise Refusal(Reason.SQUAD_WITHDRAWN)
    return squad


def check_may_take_out(result_stands: bool) -> None:
    """A coach can take a squad out until the result is announced, which it could change for others.

    Raises:
        Refusal: `result_stands`.
    """
    if result_stands:
        raise Refusal(Reason.RESULT_STANDS)


def could_come(squad: Squad, free: int, students: Iterable[Student]) -> list[Student]:
    """Who is offered to fill a squad with a free seat: students of its section who have no squad."""
    return [one for one in students if one.squad_id is None and one.section == squad.section] if free else []


def check_has_no_squad(one: Student, squad: Squad | None) -> None:
    """Only who has no squad is filled in; `squad` is the one a student has. Raises Refusal `same_squad`."""
    if squad is not None:
        raise Refusal(Reason.SAME_SQUAD, student=one.name, squad=squad.name)
