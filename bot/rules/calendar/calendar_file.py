"""The dates of a try-out as entries of one's own calendar: which there are, in which order, and the file's version."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from bot.rules.calendar.calendar import Schedule


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
