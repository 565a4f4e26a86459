"""The plan changes under a timetable: what moves with a day that has moved, and when a new timetable is due."""

from collections.abc import Sequence
from datetime import date, datetime
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.event_day.running_day import RunningDay, later_by
from storage.records.day_plan import DayPlan
from storage.records.event_day import DaySlot


def on_other_days(
    day: RunningDay, dates: Sequence[date], others: Sequence[date], zone: ZoneInfo
) -> tuple[DaySlot, ...]:
    """What is still to come on a day that has moved, on the day that took its place, by the clock on the wall.

    Nothing where the days are the same, or more or fewer than before.
    """
    if dates == others or len(dates) != len(others):
        return ()
    found = []
    for slot in day.slots:
        local = wall_clock(slot.begins_at, zone)
        if local.date() in dates and not day.is_over(slot):
            on = others[dates.index(local.date())]
            found.append(later_by(slot, instant(datetime.combine(on, local.time()), zone) - slot.begins_at))
    return tuple(found)


def asks_for_a_new_timetable(old: DayPlan, new: DayPlan) -> bool:
    """Whether more has changed than on which days it is."""
    return _without_dates(old) != _without_dates(new)


def _without_dates(day: DayPlan) -> DayPlan:
    lessons = tuple(one.model_copy(update={"date": None}) for one in day.lessons)
    return day.model_copy(update={"dates": (), "lessons": lessons})
