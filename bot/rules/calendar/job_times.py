"""What happens in a try-out, and when: the jobs that the actions schedule, worked out anew after every change.

Keys carry the date of what they announce, so that what has been said is not said again after dates were moved, and
what belongs to a new date is.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

from bot.rules.calendar.calendar import Schedule
from bot.rules.calendar.reminders import Reminder
from storage.records.tryout import FROM_BRIEF_TO_CLOSE, State

JOB_TYPES = ("signup-closes", "brief", "reminder", "deadline", "chase", "digest")
"""Everything that is worked out anew, by its kind; the coach's digest is in `bot.rules.office.digest`."""


@dataclass(frozen=True)
class Entry:
    """One thing that happens."""

    kind: str
    key: str
    at: datetime
    stale_after: datetime | None = None
    """Later than this it makes no sense any more; None when it must happen, however late."""


def agenda(schedule: Schedule, state: State) -> tuple[Entry, ...]:
    """Everything that leads from a state to the next one, past and to come, in order of time; without the digest.

    At one instant, sign-up closes before the brief goes out, and the window ends before judges are reminded.
    """
    return tuple(sorted(_entries(schedule, state), key=lambda entry: (entry.at, JOB_TYPES.index(entry.kind))))


def _entries(schedule: Schedule, state: State) -> Iterator[Entry]:
    if state in ("signup", "window"):
        yield _must("signup-closes", schedule.signup_closes)
    if state == "signup":
        yield _must("brief", schedule.brief)
    if state == "window":
        yield _must("deadline", schedule.deadline)
        yield from _chain("reminder", schedule, schedule.reminders, schedule.deadline)
    if state in FROM_BRIEF_TO_CLOSE:
        yield from _chain("chase", schedule, schedule.judging_reminders, schedule.judging_closes)


def _must(kind: str, at: datetime) -> Entry:
    return Entry(kind, f"{at.astimezone(UTC):%Y%m%dT%H%M}", at)


def _chain(kind: str, schedule: Schedule, reminders: tuple[Reminder, ...], end: datetime) -> Iterator[Entry]:
    """Reminders of which each makes sense until the next one, the last until the end."""
    for reminder, until in zip(reminders, [*(later.at for later in reminders), end][1:], strict=True):
        yield Entry(kind, _key(schedule, reminder), reminder.at, until)


def _key(schedule: Schedule, reminder: Reminder) -> str:
    """The day that is announced, or the deadline before which it is said."""
    match reminder.kind:
        case "daily":
            return f"daily-{schedule.days[reminder.number - 1]}"
        case "last-day":
            return f"{reminder.key}-{schedule.deadline.astimezone(UTC):%Y%m%dT%H%M}"
        case "judging":
            return f"judging-{reminder.at.astimezone(schedule.zone):%Y-%m-%d}"
