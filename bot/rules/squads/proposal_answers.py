"""A student answers to the squad that is proposed: to whom it is offered, until when, and who would be in it too."""

from collections.abc import Iterable

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.latecomers import MAY_COME_LATE
from bot.rules.squads.proposals import gives_place
from storage.records.people import Student
from storage.records.tryout import State
from storage.records.wishes_and_proposals import ProposedSeat


def is_offered(one: Student, seat: ProposedSeat | None) -> bool:
    """Whether an accepted proposal offers a place: to who has no squad, is given one by it and has not declined."""
    return one.squad_id is None and seat is not None and gives_place(seat) and seat.answer != "no"


def check_may_answer(state: State, me: Student | None, seat: ProposedSeat | None) -> tuple[Student, ProposedSeat]:
    """Who answers, and the place, while a coach can still place somebody. Raises Refusal `nothing_proposed`."""
    if me is None or seat is None or not is_offered(me, seat) or state not in MAY_COME_LATE:
        raise Refusal(Reason.NOTHING_PROPOSED)
    return me, seat


def founds_too(seat: ProposedSeat, seats: Iterable[ProposedSeat]) -> list[ProposedSeat]:
    """Who else would found a new squad: all others proposed for it who have not declined."""
    return [
        one
        for one in seats
        if one.new_squad == seat.new_squad and one.student_id != seat.student_id and one.answer != "no"
    ]
