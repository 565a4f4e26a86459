"""The times of squads and judges on the event day: the live messages that show them, and who is told when they move."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from bot.actions.core.live_messages import live_message
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.actions.squads.squads_changed import when_squads_change
from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.core.day_refusal_reasons import DayReason
from bot.rules.core.refusal import Refusal
from bot.rules.event_day.call_up import call_at
from bot.rules.event_day.day_windows import day_dates
from bot.rules.event_day.running_day import RunningDay, earlier_slots, moved_squads
from bot.words.event_day import own_times as words
from bot.words.event_day.slot_text import timetable_stamp
from storage.records.day_plan import DayPlan
from storage.records.event_day import DaySlot
from storage.records.message import Message
from storage.records.tryout import Tryout
from storage.tables import day_timetable, judges, live_messages, outbox, scheduled_jobs, squads
from storage.tables.sql_session import Snapshot, Transaction

CALL = "day-call"


def plan_of(tryout: Tryout) -> DayPlan:
    """The plan of the event day; Refusal `no_event_day`."""
    if tryout.plan.event_day is None:
        raise Refusal(DayReason.NO_EVENT_DAY)
    return tryout.plan.event_day


def check_runs(tryout: Tryout) -> None:
    """The event day can be arranged and changed now, or a Refusal: `day_not_yet`, `day_over`."""
    if tryout.state in ("drafting", "signup"):
        raise Refusal(DayReason.DAY_NOT_YET)
    if tryout.state not in ("window", "judging"):
        raise Refusal(DayReason.DAY_OVER)


def check_as_shown(day: RunningDay, stamp: str) -> None:
    """Two coaches who see that the day is late move it once, or a Refusal: `day_moved`."""
    if stamp != timetable_stamp(day):
        raise Refusal(DayReason.DAY_MOVED)


async def is_told(db: Snapshot, tryout: Tryout) -> bool:
    """Whether squads have read the timetable."""
    draw = await day_timetable.draw(db, tryout.id)
    return draw is not None and draw.told_at is not None


async def place_messages(db: Transaction, tryout: Tryout) -> None:
    """Have each squad read its times in its room, each judge the interviews, and the coach the board."""
    for squad in await squads.squads(db, tryout.id):
        await live_messages.place(db, tryout.id, f"day/{squad.id}", f"squad/{squad.id}", pinned=True)
    await place_judges(db, tryout)
    await live_messages.place(db, tryout.id, "day-board", "office")


async def place_judges(db: Transaction, tryout: Tryout) -> None:
    """Have each judge who gets messages read the own interviews."""
    concerned = {judge for slot in await day_timetable.slots(db, tryout.id) for judge in slot.judges}
    for judge in sorted(concerned & await _reached(db, tryout)):
        await live_messages.place(db, tryout.id, f"day-judge/{judge}", f"judge/{judge}")


async def plan_calls(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Have squads called in time; what was planned before is planned anew."""
    for row in await scheduled_jobs.jobs_of(db, tryout.id):
        if row.kind == CALL and row.state == "waiting":
            await scheduled_jobs.settle_job(db, row.id, "cancelled", now)
    run = timedelta(minutes=plan_of(tryout).run_minutes)
    calls = {call_at(slot, run) for slot in await day_timetable.slots(db, tryout.id) if slot.kind == "run"}
    for at in sorted(calls):
        if at > now:
            await scheduled_jobs.schedule_job(db, tryout.id, CALL, str(int(at.timestamp())), at)


async def move_slots(db: Transaction, tryout: Tryout, moved: Iterable[DaySlot], now: datetime) -> set[int]:
    """Keep other times, and tell those concerned and nobody else; returns the squads that were told."""
    before = await day_timetable.slots(db, tryout.id)
    for slot in moved:
        await day_timetable.move(db, slot)
    return await tell_moved(db, tryout, before, now)


async def tell_moved(db: Transaction, tryout: Tryout, before: Sequence[DaySlot], now: datetime) -> set[int]:
    """Tell squads and judges whose times are others than before; nobody while the timetable is not told yet."""
    found = await running_day(db, tryout, now)
    concerned = moved_squads(before, found.slots)
    if not await is_told(db, tryout):
        return concerned
    taking_part, earlier = found.sections.keys(), earlier_slots(found, before)
    for squad in sorted(concerned & taking_part):
        mine = [slot for slot in found.slots if slot.squad_id == squad and not found.is_over(slot)]
        await outbox.enqueue(db, tryout.id, f"squad/{squad}", words.moved(tryout.plan, found, mine, earlier), now)
        await live_messages.mark_stale(db, tryout.id, f"day/{squad}")
    old, new = _talks(before), _talks(found.slots)
    # Whoever had no interview at all reads the first ones in a message of their own.
    moved = {judge for judge, talks in old.items() if talks != new.get(judge)}
    for judge in sorted(moved & await _reached(db, tryout)):
        await outbox.enqueue(db, tryout.id, f"judge/{judge}", words.judge_moved(), now)
    await live_messages.mark_stale(db, tryout.id, "day-judge/*")
    await live_messages.mark_stale(db, tryout.id, "day-board")
    await plan_calls(db, tryout, now)
    return concerned


async def _reached(db: Snapshot, tryout: Tryout) -> set[int]:
    """The judges who have agreed to get messages; the others read the times on paper."""
    return {judge.id for judge in await judges.judges(db, tryout.id) if judge.opted_in_at is not None}


def _talks(slots: Iterable[DaySlot]) -> dict[int, set[tuple[int, datetime]]]:
    """Whom each judge meets, and when."""
    found: dict[int, set[tuple[int, datetime]]] = defaultdict(set)
    for slot in slots:
        for judge in slot.judges:
            found[judge].add((slot.squad_id, slot.begins_at))
    return found


@when_squads_change
async def day_changed(db: Transaction, tryout: Tryout, squad_ids: Collection[int]) -> None:
    """These squads, or their names, have changed: what shows them is shown anew."""
    if tryout.plan.event_day is None or tryout.state not in ("window", "judging"):
        return
    for pattern in (*(f"day/{squad}" for squad in squad_ids), "day-judge/*", "day-board"):
        await live_messages.mark_stale(db, tryout.id, pattern)


async def fit_day(db: Transaction, before: Tryout, tryout: Tryout, now: datetime) -> None:
    """After a change of the plan: what lay on a day that has moved moves with it, by the clock on the wall."""
    old, new = before.plan.event_day, tryout.plan.event_day
    if old is None or new is None or not await day_timetable.slots(db, tryout.id):
        return
    dates, others = day_dates(before.plan, schedule_of(before)), day_dates(tryout.plan, schedule_of(tryout))
    if dates != others and len(dates) == len(others):
        found, zone = await running_day(db, tryout, now), ZoneInfo(tryout.plan.zone)
        by: dict[int, timedelta] = {}
        for slot in found.slots:
            local = wall_clock(slot.begins_at, zone)
            if local.date() in dates:
                on = others[dates.index(local.date())]
                by[slot.id] = instant(datetime.combine(on, local.time()), zone) - slot.begins_at
        await move_slots(db, tryout, found.on_other_days(by), now)
    if old.model_copy(update={"dates": (), "lessons": ()}) != new.model_copy(update={"dates": (), "lessons": ()}) or (
        [one.model_copy(update={"date": None}) for one in old.lessons]
        != [one.model_copy(update={"date": None}) for one in new.lessons]
    ):
        await outbox.enqueue(db, tryout.id, "office", words.made_anew(), now)


@live_message("day")
async def squad_times(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """The times of one squad, in its own room."""
    squad = int(key.partition("/")[2])
    found = await running_day(db, tryout, tryout.created_at)
    if squad not in found.sections or tryout.state == "archived" or not await is_told(db, tryout):
        return None
    return words.squad_times(tryout.plan, found, [slot for slot in found.slots if slot.squad_id == squad])


@live_message("day-judge")
async def judge_times(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """The interviews of one judge."""
    judge = int(key.partition("/")[2])
    found = await running_day(db, tryout, tryout.created_at)
    mine = [slot for slot in found.slots if judge in slot.judges]
    if tryout.state not in ("window", "judging") or not await is_told(db, tryout):
        return None
    names = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    return words.judge_times(tryout.plan, found, mine, names)
