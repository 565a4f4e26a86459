"""More time for the hand-in of one squad, with a reason that is shown with the result."""

from zoneinfo import ZoneInfo

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.hand_in.member_parts import changed
from bot.actions.squads.squads_changed import tell_squad
from bot.actions.squads.students_admin import squad_of
from bot.rules.calendar.local_time import instant
from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.core.parse_dates import read_moment
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.typed_reason import reason_of
from bot.rules.hand_in.member_parts import hand_in_events
from bot.rules.hand_in.more_time_limits import MOST_EXTENSION
from bot.words.core.class_keys import ClassKey
from bot.words.hand_in import more_time as words
from storage.records.message import Answer, Open, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import decisions, hand_ins
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.MORE_TIME, "coach")
async def ask_more_time(db: Snapshot, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Open the form for more time."""
    squad = await squad_of(db, tryout, squad_id)
    _check_hand_in(tryout)
    return Open(form=words.more_time_form(squad, schedule_of(tryout)))


@act(ClassKey.TIME_GIVEN, "coach")
async def give(db: Transaction, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Give a squad more time, and tell it."""
    squad = await squad_of(db, tryout, squad_id)
    _check_hand_in(tryout)
    typed = read_moment(request.field("until"))
    if typed is None:
        raise Refusal(ClassReason.MORE_TIME_WHEN, deadline=int(schedule_of(tryout).deadline.timestamp()))
    until, deadline = instant(typed, ZoneInfo(tryout.plan.zone)), schedule_of(tryout).deadline
    if not max(deadline, request.at) < until <= deadline + MOST_EXTENSION:
        raise Refusal(ClassReason.MORE_TIME_WHEN, deadline=int(deadline.timestamp()))
    reason = reason_of(request)
    await hand_ins.extend(db, squad.id, until, request.at)
    decision = await decisions.decide(db, tryout.id, "extension", squad.id, None, reason, request.at)
    await tell_squad(db, tryout, squad, words.told(until), request)
    await changed(db, tryout, squad.id)
    await audit(db, tryout, request, "decision.extension", decision=decision, squad=squad.id)
    return Say(message=words.given(squad, until))


def _check_hand_in(tryout: Tryout) -> None:
    """There is something to hand in, and it may still matter."""
    if not hand_in_events(tryout.plan):
        raise Refusal(Reason.NO_HAND_IN)
    if tryout.state not in ("window", "judging"):
        raise Refusal(ClassReason.MORE_TIME_LATE)
