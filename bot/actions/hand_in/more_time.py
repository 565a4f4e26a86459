"""More time for the hand-in of one squad, with a reason that is shown with the result."""

from zoneinfo import ZoneInfo

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.hand_in.member_parts import changed
from bot.actions.squads.squads_admin import squad_of
from bot.actions.squads.squads_changed import tell_squad
from bot.rules.calendar.local_time import instant
from bot.rules.core.parse_typed import read_moment
from bot.rules.core.typed_reason import reason_of
from bot.rules.hand_in.more_time import check_may_give, check_until
from bot.words.core.class_action_keys import ClassKey
from bot.words.hand_in import more_time as words
from storage.records.message import Answer, Open, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import decisions, more_time
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.MORE_TIME, "coach")
async def ask_more_time(db: Snapshot, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Open the form for more time."""
    squad = await squad_of(db, tryout, squad_id)
    check_may_give(tryout.plan, tryout.state)
    return Open(form=words.more_time_form(squad, schedule_of(tryout)))


@act(ClassKey.TIME_GIVEN, "coach")
async def give(db: Transaction, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Give a squad more time, and tell it."""
    squad = await squad_of(db, tryout, squad_id)
    check_may_give(tryout.plan, tryout.state)
    typed = read_moment(request.field("until"))
    wished = None if typed is None else instant(typed, ZoneInfo(tryout.plan.zone))
    until = check_until(wished, schedule_of(tryout).deadline, request.at)
    reason = reason_of(request)
    await more_time.extend(db, squad.id, until, request.at)
    decision = await decisions.decide(db, tryout.id, "extension", squad.id, None, reason, request.at)
    await tell_squad(db, tryout, squad, words.told(until), request)
    await changed(db, tryout, squad.id)
    await audit(db, tryout, request, "decision.extension", decision=decision, squad=squad.id)
    return Say(message=words.given(squad, until))
