"""The calendar of a try-out as an iCalendar file (RFC 5545), for the coach's own calendar, and what is said with it."""

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta

from bot.rules.calendar.calendar import Schedule
from bot.rules.event_day.day_windows import day_dates
from storage.records.message import Attachment, Message
from storage.records.plan import Plan

PRODUCT = "-//Tenbell//Try-out//EN"


def calendar_file(plan: Plan, schedule: Schedule, key: str, stamp: datetime, version: int = 0) -> bytes:
    """The dates of a try-out as an .ics file.

    `key` names the try-out for good, so that a later file replaces its entries instead of adding others; `version`
    counts up from file to file, and `stamp` is when it was made. Instants are in UTC; the window is a row of whole
    days.
    """
    from icalendar import Calendar, Event, vText

    calendar = Calendar()
    calendar.add("PRODID", PRODUCT)
    calendar.add("VERSION", "2.0")
    calendar.add("METHOD", "PUBLISH")
    calendar.add("X-WR-CALNAME", vText(plan.name))  # else of no type to the library, and not escaped
    for name, summary, start, end in _entries(plan, schedule):
        event = Event()
        event.add("UID", f"{key}-{name}@tenbell")
        event.add("DTSTAMP", stamp.astimezone(UTC).replace(microsecond=0))
        event.add("SEQUENCE", version)
        event.add("SUMMARY", summary)
        event.add("DTSTART", start)
        if end is not None:
            event.add("DTEND", end)
        event.add("TRANSP", "TRANSPARENT")
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def _entries(plan: Plan, schedule: Schedule) -> Iterator[tuple[str, str, date, date | None]]:
    """Name, summary, start and, for whole days, end of each entry."""
    yield "brief", f"{plan.name}: the brief goes out", _second(schedule.brief), None
    yield "signup-closes", f"{plan.name}: sign-up closes", _second(schedule.signup_closes), None
    for number, day in enumerate(schedule.days, start=1):
        summary = f"{plan.name}: day {number} of {len(schedule.days)}"
        yield f"day-{number}", summary, day, day + timedelta(days=1)
    yield "deadline", f"{plan.name}: deadline", _second(schedule.deadline), None
    for number, day in enumerate(day_dates(plan, schedule) if plan.event_day else (), start=1):
        yield f"event-day-{number}", f"{plan.name}: event day", day, day + timedelta(days=1)
    yield "judging-closes", f"{plan.name}: judges should be done", _second(schedule.judging_closes), None


def _second(at: datetime) -> datetime:
    """The instant to the whole second, which is all that the format holds."""
    return at.astimezone(UTC).replace(microsecond=0)


def calendar_message(ics: bytes) -> Message:
    """The dates as a file for a calendar."""
    return Message(
        text="These are the dates for your own calendar. "
        "When they change, open the new file: its entries take the place of the old ones.",
        files=(Attachment(name="try-out.ics", data=ics),),
    )
