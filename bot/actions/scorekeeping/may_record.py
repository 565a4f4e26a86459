"""What may be recorded at the table now, and what is listed with the result because it came late."""

from bot.actions.core.audit import actor_of
from bot.actions.scorekeeping.recorded_so_far import Spot
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scorekeeping.may_record import may_record, needs_two
from bot.words.scorekeeping import score_table as words
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import late_changes
from storage.tables.sql_session import Snapshot, Transaction


async def check_may_change(db: Snapshot, tryout: Tryout, spot: Spot, nothing_there: bool) -> None:
    """What is on record is not changed by one person once totals can be seen; Refusal `table_settled`."""
    if not may_record(tryout.state, nothing_there, await _opened(db, tryout, spot)):
        about = words.measure_value(spot.event, spot.measure)
        raise Refusal(TableReason.TABLE_SETTLED, squad=spot.squad.name, about=about, number=spot.squad.id)


async def note_if_late(db: Transaction, tryout: Tryout, request: Request, spot: Spot) -> None:
    """After the close it is listed with the result that something was recorded, unless that was agreed to."""
    if await is_settled(db, tryout, spot):
        who = actor_of(tryout, request.who)
        await late_changes.note_missing(db, tryout.id, spot.squad.id, spot.event.key, who, request.at)


async def is_settled(db: Snapshot, tryout: Tryout, spot: Spot) -> bool:
    """Whether what is on record of a squad is not changed by one person alone now."""
    return needs_two(tryout.state, await _opened(db, tryout, spot))


async def _opened(db: Snapshot, tryout: Tryout, spot: Spot) -> bool:
    return tryout.state == "settled" and await late_changes.is_open(db, spot.squad.id, spot.event.key)
