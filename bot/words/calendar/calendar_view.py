"""The whole calendar of a plan, as lines of text for the coach: which lines, and what is noted of each day."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta

from bot.rules.calendar.calendar import Schedule
from bot.rules.calendar.local_time import clock_change
from bot.rules.calendar.reminders import Reminder
from bot.rules.calendar.school_days import SchoolDays
from bot.rules.event_day.day_windows import day_dates
from bot.words.calendar.school_days import closed_text
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.times import duration, moment_text, school_day_after, short_day, time_text
from storage.records.plan import Plan

_INDENT = "  "


def explain(plan: Plan, schedule: Schedule) -> list[str]:
    """The calendar of a plan, line by line, in the plan's own zone; equally wide letters make its columns straight."""
    return [
        f"All times are local times of {plan.zone}.",
        "",
        f"Brief           {_moment(schedule, schedule.brief)}",
        f"Sign-up closes  {_moment(schedule, schedule.signup_closes)}",
        f"Deadline        {_moment(schedule, schedule.deadline)}",
        *(f"Event day       {short_day(day)}" for day in (day_dates(plan, schedule) if plan.event_day else ())),
        f"Judging closes  {_moment(schedule, schedule.judging_closes)}",
        "",
        _window_line(plan, schedule),
        *_days(plan, schedule),
        "",
        _judges_line(schedule),
        f"Protests: until the evening of {school_day_after(plan.protest_days)} after the announcement."
        if plan.protest_days
        else "Protests: none in this try-out.",
        f"Names and texts are erased {count(plan.retention_days, 'day')} after the announcement.",
    ]


def _window_line(plan: Plan, schedule: Schedule) -> str:
    kind = "school day" if plan.calendar.counting == "school" else "day"
    quiet = plan.calendar.quiet_from, plan.calendar.quiet_until
    silence = "" if quiet[0] == quiet[1] else f" No reminder from {time_text(quiet[0])} to {time_text(quiet[1])}."
    return f"From the brief to the deadline: {count(len(schedule.days), kind)}.{silence}"


def _days(plan: Plan, schedule: Schedule) -> Iterator[str]:
    """One line for each day of the window, closed days included; what is noted of a day stands in this order."""
    school, numbers = SchoolDays(plan.calendar), {day: n for n, day in enumerate(schedule.days, start=1)}
    for day in _listed_days(schedule):
        label = f"day {numbers[day]:2}" if day in numbers else "      "
        ends = time_text(schedule.deadline.astimezone(schedule.zone).time())
        notes = (
            closed_text(school, day),
            _reminders(schedule, day),
            _clock_change(schedule, day),
            f"deadline {ends}" if day == schedule.days[-1] else "",
        )
        yield f"{_INDENT}{label}  {short_day(day)}  {'; '.join(filter(None, notes))}".rstrip()


def _listed_days(schedule: Schedule) -> list[date]:
    """Each date from the day after the brief to the deadline, closed days included."""
    brief, last = schedule.brief.astimezone(schedule.zone).date(), schedule.days[-1]
    return [brief + timedelta(days=ahead) for ahead in range(1, (last - brief).days + 1)]


def _reminders(schedule: Schedule, day: date) -> str:
    local = [(r, r.at.astimezone(schedule.zone)) for r in schedule.reminders]
    times = [_reminder(r, at) for r, at in local if at.date() == day]
    if not times:
        return ""
    return f"{'reminder' if len(times) == 1 else 'reminders'} {listing(times)}"


def _reminder(reminder: Reminder, at: datetime) -> str:
    return time_text(at.time()) + (" (after the quiet hours)" if reminder.moved else "")


def _clock_change(schedule: Schedule, day: date) -> str:
    """Whether the clocks change on a day, and by how much."""
    ahead = clock_change(schedule.zone, day)
    return f"clocks go {'forward' if ahead > timedelta() else 'back'} {duration(ahead)}" if ahead else ""


def _judges_line(schedule: Schedule) -> str:
    times = schedule.judging_reminders
    if not times:
        return "Judges get no reminder."
    first, last = (reminder.at.astimezone(schedule.zone) for reminder in (times[0], times[-1]))
    if len(times) == 1:
        often, span = "once", short_day(first)
    else:
        often, span = count(len(times), "time"), f"{short_day(first)} to {short_day(last)}"
    return f"Judges who still owe sheets are reminded {often}: {span}, {time_text(first.time())}."


def _moment(schedule: Schedule, at: datetime) -> str:
    return moment_text(at.astimezone(schedule.zone))
