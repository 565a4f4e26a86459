"""What happens in a try-out, and when: the jobs that the actions schedule, worked out anew after every change.

Keys carry the date of what they announce, so that what has been said is not said again after dates were moved, and
what belongs to a new date is.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from bot.rules.calendar.calendar import Reminder, Schedule, outside_quiet
from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.calendar.school_days import SchoolDays
from storage.records.plan import Plan
from storage.records.tryout import State

JOB_TYPES = ("signup-closes", "brief", "reminder", "deadline", "chase", "digest")
"""Everything an agenda can hold, by its kind."""
DIGESTS_BEFORE = 21
"""Days before the brief from which the coach gets a daily digest, once sign-up is open."""
DAY = timedelta(days=1)


@dataclass(frozen=True)
class Entry:
    """One thing that happens."""

    kind: str
    key: str
    at: datetime
    stale_after: datetime | None = None
    """Later than this it makes no sense any more; None when it must happen, however late."""


def agenda(plan: Plan, schedule: Schedule, state: State) -> tuple[Entry, ...]:
    """Everything that leads from a state to the next one, past and to come, in order of time.

    At one instant, sign-up closes before the brief goes out, and the window ends before judges are reminded.
    """
    return tuple(sorted(_entries(plan, schedule, state), key=lambda entry: (entry.at, JOB_TYPES.index(entry.kind))))


def _entries(plan: Plan, schedule: Schedule, state: State) -> Iterator[Entry]:
    if state in ("signup", "window"):
        yield _must("signup-closes", schedule.signup_closes)
    if state == "signup":
        yield _must("brief", schedule.brief)
    if state == "window":
        yield _must("deadline", schedule.deadline)
        yield from _chain("reminder", schedule, schedule.reminders, schedule.deadline)
    if state in ("window", "judging"):
        yield from _chain("chase", schedule, schedule.judging_reminders, schedule.judging_closes)
    if state in ("signup", "window", "judging"):
        yield from _digests(plan, schedule)


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


def _digests(plan: Plan, schedule: Schedule) -> Iterator[Entry]:
    """One a day for the coach at the reminder hour, from three weeks before the brief to the close of judging.

    Where the window counts school days, days without school have none.
    """
    school = SchoolDays(plan.calendar) if plan.calendar.counting == "school" else None
    day = wall_clock(schedule.brief, schedule.zone).date() - timedelta(days=DIGESTS_BEFORE)
    last = wall_clock(schedule.judging_closes, schedule.zone).date()
    times = []
    while day <= last:
        if school is None or school.closed_because(day) is None:
            ring = instant(datetime.combine(day, plan.calendar.remind_at), schedule.zone)
            times.append((f"{day}", outside_quiet(ring, plan.calendar, schedule.zone)[0]))
        day += timedelta(days=1)
    for (key, at), (_, until) in pairwise([*times, ("", times[-1][1] + DAY)]):
        yield Entry("digest", key, at, until)
