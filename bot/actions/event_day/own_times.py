"""The times of squads and judges on the event day: the live messages that show them."""

from collections.abc import Collection

from bot.actions.core.live_messages import live_message
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.actions.squads.squads_changed import when_squads_change
from bot.rules.event_day import own_times as rules
from bot.rules.event_day.may_arrange import is_on
from bot.words.event_day import own_times as words
from storage.records.message import Message
from storage.records.tryout import Tryout
from storage.tables import day_draw, day_timetable, judges, live_messages, squads
from storage.tables.sql_session import Snapshot, Transaction


async def is_told(db: Snapshot, tryout: Tryout) -> bool:
    """Whether squads have read the timetable."""
    return rules.is_told(await day_draw.draw(db, tryout.id))


async def place_messages(db: Transaction, tryout: Tryout) -> None:
    """Have each squad read its times in its room, and each judge the interviews."""
    for squad in await squads.squads(db, tryout.id):
        await live_messages.place(db, tryout.id, f"day/{squad.id}", f"squad/{squad.id}", pinned=True)
    await place_judges(db, tryout)


async def place_judges(db: Transaction, tryout: Tryout) -> None:
    """Have each judge who gets messages read the own interviews."""
    concerned = {judge for slot in await day_timetable.slots(db, tryout.id) for judge in slot.judges}
    for judge in sorted(concerned & await reached(db, tryout)):
        await live_messages.place(db, tryout.id, f"day-judge/{judge}", f"judge/{judge}")


async def reached(db: Snapshot, tryout: Tryout) -> set[int]:
    """The judges who have agreed to get messages; the others read the times on paper."""
    return rules.reached(await judges.judges(db, tryout.id))


@when_squads_change
async def day_changed(db: Transaction, tryout: Tryout, squad_ids: Collection[int]) -> None:
    """These squads, or their names, have changed: what shows them is shown anew."""
    if not is_on(tryout):
        return
    for pattern in (*(f"day/{squad}" for squad in squad_ids), "day-judge/*", "day-board"):
        await live_messages.mark_stale(db, tryout.id, pattern)


@live_message("day")
async def squad_times(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """The times of one squad, in its own room."""
    squad = int(key.partition("/")[2])
    found = await running_day(db, tryout, tryout.created_at)
    if squad not in found.sections or not rules.squad_reads(tryout.state) or not await is_told(db, tryout):
        return None
    return words.squad_times(tryout.plan, found, [slot for slot in found.slots if slot.squad_id == squad])


@live_message("day-judge")
async def judge_times(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """The interviews of one judge."""
    judge = int(key.partition("/")[2])
    found = await running_day(db, tryout, tryout.created_at)
    mine = [slot for slot in found.slots if judge in slot.judges]
    if not rules.judge_reads(tryout.state) or not await is_told(db, tryout):
        return None
    names = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    return words.judge_times(tryout.plan, found, mine, names)
