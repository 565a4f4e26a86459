"""Event days for the checks: short to write, and random ones of any size."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from random import Random

from bot.rules.event_day.running_day import RunningDay
from bot.rules.event_day.timetable import Activity, Day, make_timetable
from storage.records.event_day import DaySlot

BASE = datetime(2027, 1, 21, 8, 0, tzinfo=UTC)


def minutes(number: float) -> timedelta:
    return timedelta(minutes=number)


def day(
    squads: int, sections: int, tables: int, panels: int, attempts: int = 2, lesson: int = 50, seed: int = 1
) -> Day:
    """Sections with a lesson each, one after the other, an hour apart; two judges a panel, none where it is 0."""
    order = list(range(1, squads + 1))
    Random(seed).shuffle(order)
    windows = {}
    activities = []
    for squad in order:
        begins = BASE + minutes(60 * (squad % sections))
        for kind in ("run", "interview"):
            windows[kind, squad] = ((begins, begins + minutes(lesson)),)
        activities += [Activity("run", squad, "sock-run", number) for number in range(1, attempts + 1)]
        if panels:
            panel = (squad // sections) % panels
            activities.append(Activity("interview", squad, "bunting", 1, (2 * panel + 1, 2 * panel + 2)))
    return Day(tuple(order), tuple(activities), windows, tables, minutes(5), minutes(10), minutes(3))  # type: ignore[arg-type]


def running(seed: int = 1, squads: int = 6, tables: int = 2) -> RunningDay:
    """A timetable with interviews, before anything has happened."""
    found = make_timetable(day(squads, 1, tables, 2, lesson=90, seed=seed))
    assert found is not None
    slots = tuple(
        DaySlot(
            id=number,
            squad_id=slot.activity.squad,
            kind=slot.activity.kind,
            event=slot.activity.event,
            number=slot.activity.number,
            table_number=slot.table,
            judges=slot.activity.judges,
            begins_at=slot.begins,
            ends_at=slot.ends,
        )
        for number, slot in enumerate(found, start=1)
    )
    return RunningDay(slots, dict.fromkeys(range(1, squads + 1), "7-A"), {}, BASE)


def after(before: RunningDay, moved: tuple[DaySlot, ...]) -> RunningDay:
    """The timetable with some slots at other times."""
    changed = {slot.id: slot for slot in moved}
    slots = sorted((changed.get(slot.id, slot) for slot in before.slots), key=lambda slot: slot.begins_at)
    return replace(before, slots=tuple(slots))
