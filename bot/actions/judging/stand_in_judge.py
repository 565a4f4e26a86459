"""Another judge takes over where one may not mark a squad, and is told."""

from collections.abc import Sequence
from datetime import datetime

from bot.actions.judging.sheet_queries import entries_of
from bot.actions.judging.sheets_follow_panels import judges_per_squad, tied_seats
from bot.rules.judging.judged_rubrics import rubrics
from bot.rules.judging.stand_in_judge import is_replaced, stand_in, told_of
from bot.words.judging import stand_in_judge as words
from storage.records.judging import Seat
from storage.records.people import Judge, Squad
from storage.records.tryout import Tryout
from storage.tables import judges, open_events, outbox, panels
from storage.tables.sql_session import Snapshot, Transaction


async def take_over(db: Transaction, tryout: Tryout, judge: Judge, squad: Squad) -> list[Judge | None]:
    """Let others take the seats of a judge at a squad; None for a seat for which nobody is free."""
    instead = []
    for seat in await panels.take_seat(db, judge.id, squad.id):
        one = await _stand_in(db, tryout, seat)
        instead.append(one)
        if one is not None:
            await panels.add_seat(db, seat.model_copy(update={"judge_id": one.id, "pinned": False}))
    return instead


async def _stand_in(db: Snapshot, tryout: Tryout, seat: Seat) -> Judge | None:
    """Who takes an empty seat, while the event is not closed and its judges were shared out."""
    judged = {(event.key, rubric.key): (event, rubric) for event, rubric in rubrics(tryout.plan)}
    what = judged.get((seat.event, seat.measure))
    opened = (await open_events.opened(db, tryout.id)).get(seat.event)
    if what is None:
        return None
    closed = opened is not None and opened.closed_at is not None
    if not is_replaced(closed, await judges_per_squad(db, tryout, *what) is None):
        return None
    seats = await panels.seats(db, tryout.id, seat.event, seat.measure)
    return stand_in(seat.squad_id, seats, await judges.judges(db, tryout.id), await tied_seats(db, tryout))


async def tell_stand_in(db: Transaction, tryout: Tryout, judge: Judge, taken: Sequence[Squad], now: datetime) -> None:
    """Tell a judge of the squads that were taken over, where there is something to mark."""
    mine = await entries_of(db, tryout, judge)
    if owed := told_of(judge, taken, mine):
        await outbox.enqueue(db, tryout.id, f"judge/{judge.id}", words.more_squads(owed, mine), now)
