"""After the close: what is missing is still recorded, and listed; what is on record is corrected by two, or later."""

from bot.actions.core.audit import actor_of, audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.roles import roles
from bot.actions.scorekeeping.recorded_so_far import Spot, spot_of
from bot.actions.scorekeeping.score_table import squad_page
from bot.rules.core.audit_pseudonyms import is_by
from bot.rules.core.typed_reason import reason_of
from bot.rules.scorekeeping.late_changes import alone_from, check_may_agree, check_settled
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
    alone = alone_from(request.at)
    told = words.asked_in_office(change, about, spot.squad, spot.event, reason, alone)
    await outbox.enqueue(db, tryout.id, "office", told, request.at)
    by_coach = "coach" in await roles(db, tryout, request)
    return Say(message=words.asked(change, about, spot.squad, spot.event, alone if by_coach else None))


@act(ActionKey.TABLE_CORRECT_AGREED, "coach")
async def agree(db: Transaction, tryout: Tryout, request: Request, change_id: int, about: str) -> Answer:
    """Open it: a coach agrees to what somebody else has asked for, or the coach who asked has waited.

    Raises Refusal: `reopening_waits` (at).
    """
    check_settled(tryout.state)
    asked = next((one for one in await late_changes.late_changes(db, tryout.id) if one.id == change_id), None)
    by_another = asked is not None and not is_by(asked.asked_by, tryout.audit_key, request.who)
    asked = check_may_agree(asked, by_another, request.at)
    spot = await _spot(db, tryout, about, asked.squad_id)
    await late_changes.agree(db, asked.id, request.at)
    await audit(db, tryout, request, "table.correct", squad=asked.squad_id, event=asked.event, asked=asked.id)
    opened = words.opened_in_office(spot.squad, spot.event)
    await outbox.enqueue(db, tryout.id, "office", opened, request.at)
    return Replace(message=await squad_page(db, tryout, about, spot.squad.id))


async def _spot(db: Snapshot, tryout: Tryout, about: str, squad_id: int) -> Spot:
    check_settled(tryout.state)
    return await spot_of(db, tryout, about, squad_id)
