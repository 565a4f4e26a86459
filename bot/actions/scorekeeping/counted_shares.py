"""A share that the bot itself counted is confirmed for all squads in one press."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.scorekeeping.attempts import attempt_of
from bot.actions.scorekeeping.may_record import note_if_late
from bot.actions.scorekeeping.recorded_so_far import Spot, measure_of, spots
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.scorekeeping import counted_shares as rules
from bot.rules.scorekeeping.may_record import check_open
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import shown_stamp
from bot.words.scorekeeping import counted_shares as words
from bot.words.scorekeeping.counted_shares import Counted
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import attempts, member_parts, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.TABLE_COUNTED, "scorekeeper")
async def read_all_back(db: Snapshot, tryout: Tryout, request: Request, about: str) -> Answer:
    """Read back what was counted for every squad that has no number yet."""
    check_open(tryout)
    event, measure = await measure_of(db, tryout, about)
    found = [counted for _, counted in await _counted(db, tryout, about)]
    return Replace(message=words.read_all_back(event, measure, found, _stamp(found)))


@act(ActionKey.TABLE_COUNTED_SAVED, "scorekeeper")
async def save_all(db: Transaction, tryout: Tryout, request: Request, about: str, stamp: str) -> Answer:
    """Put exactly what was read back on record; Refusal `someone_was_quicker` where it has changed since."""
    check_open(tryout)
    event, measure = await measure_of(db, tryout, about)
    found = await _counted(db, tryout, about)
    if not found or stamp != _stamp([counted for _, counted in found]):
        raise Refusal(Reason.SOMEONE_WAS_QUICKER)
    for spot, counted in found:
        attempt = await attempt_of(db, request, spot, 1, False, (str(counted.there),))
        attempt_id = await attempts.add_attempt(db, attempt)
        await note_if_late(db, tryout, request, spot)
        await audit(db, tryout, request, "table.save", squad=spot.squad.id, measure=about, attempt="1", id=attempt_id)
    return Replace(message=words.all_saved(event, measure, len(found)))


async def _counted(db: Snapshot, tryout: Tryout, about: str) -> list[tuple[Spot, Counted]]:
    """The squads without a number, with how many of their members have handed in a part; Refusal `no_measure`."""
    event, measure = await measure_of(db, tryout, about)
    rules.check_counted(event, measure)
    there = await member_parts.counts(db, tryout.id)
    found = []
    for spot in await spots(db, tryout, about):
        members = len(await squads.members(db, spot.squad.id))
        if rules.waits(len(spot.attempts), spot.absence is not None, members):
            found.append((spot, Counted(spot.squad, there.get((spot.squad.id, event.key), 0), members)))
    return found


def _stamp(found: list[Counted]) -> str:
    """Names these very numbers."""
    return shown_stamp([(one.squad.id, one.there, one.members) for one in found])
