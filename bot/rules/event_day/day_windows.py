"""When on the event days a squad may run, and when it may be interviewed: instants, without the breaks."""

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.calendar import Schedule
from bot.rules.calendar.local_time import instant
from bot.rules.calendar.plan_default_dates import event_day
from storage.records.day_plan import DayPlan
from storage.records.plan import Plan

Window = tuple[datetime, datetime]
"""From an instant (UTC) to another one."""


def day_dates(plan: Plan, schedule: Schedule) -> tuple[date, ...]:
    """The event days in order: those of the plan, or the first school day after the deadline."""
    if dates := _day(plan).dates:
        return tuple(sorted(dates))
    return (event_day(plan.calendar, schedule.deadline.astimezone(schedule.zone).date()),)


def is_event_day(plan: Plan, schedule: Schedule, now: datetime) -> bool:
    """Whether today is one of the event days, where the plan has any."""
    return plan.event_day is not None and now.astimezone(schedule.zone).date() in day_dates(plan, schedule)


def run_windows(plan: Plan, dates: Sequence[date], section: str) -> tuple[Window, ...]:
    """The lessons of a section, or the whole days where it has none, without the breaks, in order."""
    day, zone = _day(plan), ZoneInfo(plan.zone)
    own = [lesson for lesson in day.lessons if lesson.section == section]
    found = []
    for on in dates:
        hours = [(one.begins, one.ends) for one in own if one.date in {None, on}] if own else [(day.begins, day.ends)]
        for begins, ends in sorted(hours):
            found += _without_breaks(day, zone, on, begins, ends)
    return tuple(_joined(found))


def interview_windows(plan: Plan, dates: Sequence[date], section: str) -> tuple[Window, ...]:
    """The same for interviews, which the plan may let be at any time of the day."""
    day = _day(plan)
    if day.interviews == "lesson":
        return run_windows(plan, dates, section)
    zone = ZoneInfo(plan.zone)
    return tuple(one for on in dates for one in _without_breaks(day, zone, on, day.begins, day.ends))


def _day(plan: Plan) -> DayPlan:
    assert plan.event_day is not None, "asked only where there is a plan of the day"
    return plan.event_day


def _without_breaks(day: DayPlan, zone: ZoneInfo, on: date, begins: time, ends: time) -> list[Window]:
    """What is left of some hours of a day."""
    left = [(datetime.combine(on, begins), datetime.combine(on, ends))]
    for pause in day.breaks:
        rest, back = datetime.combine(on, pause.begins), datetime.combine(on, pause.ends)
        left = [
            (first, last)
            for begin, end in left
            for first, last in ((begin, min(end, rest)), (max(begin, back), end))
            if first < last
        ]
    return [(instant(begin, zone), instant(end, zone)) for begin, end in left]


def _joined(windows: list[Window]) -> list[Window]:
    """Windows in order, those that overlap or touch made one."""
    found: list[Window] = []
    for begin, end in sorted(windows):
        if found and begin <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((begin, end))
    return found


def still_to_come(windows: Sequence[Window], now: datetime) -> tuple[Window, ...]:
    """What is left of them from the next whole minute on."""
    whole = now.replace(second=0, microsecond=0) + timedelta(minutes=1)
    return tuple((max(begin, whole), end) for begin, end in windows if end > whole)
