"""After the close: what is missing is still recorded, and listed; what is on record is corrected by two, or later."""

from bot.actions.core.audit import actor_of, audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.roles import roles
from bot.actions.scorekeeping.recorded_so_far import Spot, spot_of
from bot.actions.scorekeeping.score_table import squad_page
from bot.rules.core.audit_pseudonyms import is_by
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.second_coach import COOLING, may_break
from bot.rules.core.typed_reason import reason_of
from bot.rules.scorekeeping.late_changes import check_settled
from bot.words.core.action_keys import ActionKey
from bot.words.scorekeeping import late_changes as words
from storage.records.message import Answer, Open, Replace, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import late_changes, outbox
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.TABLE_CORRECT, "scorekeeper")
async def ask_why(db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int) -> Answer:
    """Ask why what is on record of a squad is to be corrected."""
    return Open(form=words.why_form((await _spot(db, tryout, about, squad_id)).squad, about))


@act(ActionKey.TABLE_CORRECT_ASKED, "scorekeeper")
async def ask_to_correct(db: Transaction, tryout: Tryout, request: Request, about: str, squad_id: int) -> Answer:
    """Ask for what a squad has in an event to be corrected; the office reads it."""
    spot = await _spot(db, tryout, about, squad_id)
    reason, who = reason_of(request), actor_of(tryout, request.who)
    change = await late_changes.ask(db, tryout.id, squad_id, spot.event.key, reason, who, request.at)
    await audit(db, tryout, request, "table.ask-to-correct", squad=squad_id, event=spot.event.key, asked=change)
    told = words.asked_in_office(change, about, spot.squad, spot.event, reason, request.at + COOLING)
    await outbox.enqueue(db, tryout.id, "office", told, request.at)
    alone_from = request.at + COOLING if "coach" in await roles(db, tryout, request) else None
    return Say(message=words.asked(change, about, spot.squad, spot.event, alone_from))


@act(ActionKey.TABLE_CORRECT_AGREED, "coach")
async def agree(db: Transaction, tryout: Tryout, request: Request, change_id: int, about: str) -> Answer:
    """Open it: a coach agrees to what somebody else has asked for, or the coach who asked has waited.

    Raises Refusal: `reopening_waits` (at).
    """
    check_settled(tryout.state)
    asked = next((one for one in await late_changes.late_changes(db, tryout.id) if one.id == change_id), None)
    if asked is None or asked.agreed_at is not None or asked.shut_at is not None:
        raise Refusal(Reason.OUT_OF_DATE)
    spot = await _spot(db, tryout, about, asked.squad_id)
    if not may_break(asked.asked_at, not is_by(asked.asked_by, tryout.audit_key, request.who), request.at):
        raise Refusal(Reason.REOPENING_WAITS, at=int((asked.asked_at + COOLING).timestamp()))
    await late_changes.agree(db, asked.id, request.at)
    await audit(db, tryout, request, "table.correct", squad=asked.squad_id, event=asked.event, asked=asked.id)
    opened = words.opened_in_office(spot.squad, spot.event)
    await outbox.enqueue(db, tryout.id, "office", opened, request.at)
    return Replace(message=await squad_page(db, tryout, about, spot.squad.id))


async def _spot(db: Snapshot, tryout: Tryout, about: str, squad_id: int) -> Spot:
    check_settled(tryout.state)
    return await spot_of(db, tryout, about, squad_id)
