"""The dates of a try-out as an iCalendar file (RFC 5545), for the coach's own calendar: which entries it has, and in
which order; how its versions are counted; and what is said with it."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Literal

from bot.rules.calendar.calendar import Schedule
from bot.rules.event_day.day_windows import day_dates
from storage.records.message import Attachment, Message
from storage.records.plan import Plan

PRODUCT = "-//Tenbell//Try-out//EN"


@dataclass(frozen=True)
class CalendarEntry:
    """One entry: an instant, or a whole day where `on` is a date."""

    kind: Literal["brief", "signup-closes", "day", "deadline", "event-day", "judging-closes"]
    on: datetime | date
    number: int | None = None
    """Of the days of the window, and of the event days, each from 1."""

    @property
    def name(self) -> str:
        """What an entry is called in every file of the try-out, so that a later one replaces it."""
        return self.kind if self.number is None else f"{self.kind}-{self.number}"


def entries(schedule: Schedule, event_days: tuple[date, ...]) -> list[CalendarEntry]:
    """The entries in the order of the file; `event_days` are those of the plan, none where it has none."""
    return [
        CalendarEntry("brief", schedule.brief),
        CalendarEntry("signup-closes", schedule.signup_closes),
        *(CalendarEntry("day", day, number) for number, day in enumerate(schedule.days, start=1)),
        CalendarEntry("deadline", schedule.deadline),
        *(CalendarEntry("event-day", day, number) for number, day in enumerate(event_days, start=1)),
        CalendarEntry("judging-closes", schedule.judging_closes),
    ]


def version(created_at: datetime, now: datetime) -> int:
    """Counts up from file to file: the minutes since the try-out began."""
    return int((now - created_at).total_seconds() // 60)


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
    for entry in entries(schedule, day_dates(plan, schedule) if plan.event_day else ()):
        event = Event()
        event.add("UID", f"{key}-{entry.name}@tenbell")
        event.add("DTSTAMP", stamp.astimezone(UTC).replace(microsecond=0))
        event.add("SEQUENCE", version)
        event.add("SUMMARY", _summary(plan, schedule, entry))
        if isinstance(entry.on, datetime):
            event.add("DTSTART", _second(entry.on))
        else:
            event.add("DTSTART", entry.on)
            event.add("DTEND", entry.on + timedelta(days=1))
        event.add("TRANSP", "TRANSPARENT")
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def _summary(plan: Plan, schedule: Schedule, entry: CalendarEntry) -> str:
    said = {
        "brief": "the brief goes out",
        "signup-closes": "sign-up closes",
        "day": f"day {entry.number} of {len(schedule.days)}",
        "deadline": "deadline",
        "event-day": "event day",
        "judging-closes": "judges should be done",
    }
    return f"{plan.name}: {said[entry.kind]}"


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
