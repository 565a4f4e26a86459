"""Undoing the last attempt of a squad: asked once, with the reason; it stays on record."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.followers import when_table_changes
from bot.actions.scorekeeping.may_record import check_may_change
from bot.actions.scorekeeping.recorded_so_far import Spot, spot_of
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scorekeeping.may_record import check_open
from bot.rules.scorekeeping.undo_attempt import Why, check_last
from bot.words.core.action_keys import ActionKey
from bot.words.scorekeeping import undo_attempt
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.scores import Attempt
from storage.records.tryout import Tryout
from storage.tables import attempts
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.TABLE_UNDO, "scorekeeper")
async def ask_undo(db: Snapshot, tryout: Tryout, request: Request, attempt_id: int) -> Answer:
    """Ask once, and for the reason, before an attempt is undone."""
    spot, attempt = await _last(db, tryout, attempt_id)
    return Replace(message=undo_attempt.sure_to_undo(spot.squad, spot.event, spot.measure, attempt))


@act(ActionKey.TABLE_UNDONE, "scorekeeper")
async def undo(db: Transaction, tryout: Tryout, request: Request, attempt_id: int, reason: Why) -> Answer:
    """Undo the last attempt of a squad; it stays on record."""
    spot, attempt = await _last(db, tryout, attempt_id)
    if not await attempts.undo(db, attempt.id, request.at):
        raise Refusal(TableReason.ATTEMPT_GONE)
    await audit(db, tryout, request, "table.undo", squad=spot.squad.id, id=attempt.id, reason=reason)
    await when_table_changes.tell(db, tryout, request.at)
    return Replace(message=undo_attempt.undone(spot.squad, spot.event, spot.measure, attempt, reason))


async def _last(db: Snapshot, tryout: Tryout, attempt_id: int) -> tuple[Spot, Attempt]:
    """An attempt that stands and is its squad's last one in its measure."""
    check_open(tryout)
    attempt = await attempts.attempt(db, attempt_id)
    if attempt is None:
        raise Refusal(TableReason.ATTEMPT_GONE)
    spot = await spot_of(db, tryout, f"{attempt.event}.{attempt.measure}", attempt.squad_id)
    check_last(spot.attempts, spot.run_offs, attempt_id)
    await check_may_change(db, tryout, spot, False)
    return spot, attempt
