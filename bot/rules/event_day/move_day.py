"""The event day moves: later by so many minutes, or to other dates with the plan; when a new timetable is due."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.running_day import ONE_DAY, RunningDay, later_by
from storage.records.day_plan import DayPlan
from storage.records.event_day import DaySlot

LATEST = 600
"""Minutes by which a day can move at once."""


def read_minutes(typed: str) -> int:
    """Whole minutes as typed. Raises Refusal: `later_minutes` (typed, most)."""
    minutes = typed.strip()
    if not (minutes.isdecimal() and len(minutes) <= len(str(LATEST)) and 1 <= int(minutes) <= LATEST):
        raise Refusal(DayReason.LATER_MINUTES, typed=minutes, most=LATEST)
    return int(minutes)


def moved_later(day: RunningDay, by: timedelta) -> tuple[DaySlot, ...]:
    """Everything that is still to come on the same day, so much later: nobody gets into two places by it."""
    left = [slot for slot in day.slots if not day.is_over(slot)]
    first = min((slot.begins_at for slot in left), default=day.now)
    return tuple(later_by(slot, by) for slot in left if slot.begins_at < first + ONE_DAY)


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
