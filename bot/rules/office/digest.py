"""The coach's daily digest (summary): when it comes, who is behind, what is said again each time."""

from collections.abc import Collection, Iterable, Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from bot.rules.calendar.calendar import Schedule
from bot.rules.calendar.job_times import Entry
from bot.rules.calendar.local_time import instant, wall_clock
from bot.rules.calendar.quiet_hours import outside_quiet
from bot.rules.calendar.school_days import SchoolDays
from bot.rules.calendar.squad_debts import Debt
from storage.records.people import Squad, Student
from storage.records.plan import Plan
from storage.records.tryout import State

DAYS_BEFORE_THE_BRIEF = 21
"""From so many days before the brief it comes, once sign-up is open; the last one on the day judging closes."""
AHEAD = timedelta(hours=24)
LONGEST_LOOK_BACK = timedelta(days=14)
FILLING = timedelta(days=3)
"""Before the last so many days of sign-up nobody is behind: squads are filling up."""
FRESH = timedelta(hours=6)
"""So long after the brief nobody is behind: squads have hardly read it."""
SMALL_THINGS = frozenset(
    (
        "reminder",
        "grace",
        "grace-reminder",
        "offer-reminder",
        "team-reminder",
        "practice",
        "practice-opens",
        "practice-shuts",
        "chase",
        "digest",
        "tidy",
    )
)
"""Kinds of jobs that need no line of their own before they happen."""
DAY = timedelta(days=1)


def agenda(plan: Plan, schedule: Schedule, state: State) -> tuple[Entry, ...]:
    """One a day at the reminder hour, in order: from three weeks before the brief to the close of judging.

    Where the window counts school days, days without school have none. Each makes sense until the next one.
    """
    if state not in ("signup", "window", "judging"):
        return ()
    school = SchoolDays(plan.calendar) if plan.calendar.counting == "school" else None
    day = wall_clock(schedule.brief, schedule.zone).date() - timedelta(days=DAYS_BEFORE_THE_BRIEF)
    last = wall_clock(schedule.judging_closes, schedule.zone).date()
    times = []
    while day <= last:
        if school is None or school.closed_because(day) is None:
            ring = instant(datetime.combine(day, plan.calendar.remind_at), schedule.zone)
            times.append((f"{day}", outside_quiet(ring, plan.calendar, schedule.zone)[0]))
        day += DAY
    nexts = pairwise([*times, ("", times[-1][1] + DAY)])
    return tuple(Entry("digest", key, at, until) for (key, at), (_, until) in nexts)


def names_who_is_behind(state: State, signup_closes: datetime, brief_at: datetime | None, now: datetime) -> bool:
    """Whether squads that owe something are named now: not while they fill up or have just read the brief.

    While judging it is judges who owe something.
    """
    filling = state == "signup" and signup_closes - now > FILLING
    fresh = state == "window" and brief_at is not None and now - brief_at < FRESH
    return not (filling or fresh or state == "judging")


def names_who_is_alone(state: State) -> bool:
    """Whether students without a squad are counted now: while there are squads to join."""
    return state == "signup"


def counts_open_sheets(state: State) -> bool:
    """Whether score sheets that are not handed in are counted now: while judging, for judges owe them then."""
    return state == "judging"


def is_said_each_time(what: str, filled_up: bool) -> bool:
    """Whether a line comes each time: questions, who came late, and once squads have filled up who has none.

    They wait for the coach alone; all other lines come again only when they say something new.
    """
    return what in ("questions", "late") or (what == "alone" and filled_up)


def is_said_now(each_time: bool, line: str, before: Collection[str]) -> bool:
    """Whether a line is said: each time, or where it stood in no digest `before`."""
    return each_time or line not in before


def is_worth_a_line(kind: str) -> bool:
    """Whether the coach wants to know beforehand that something of this kind is due."""
    return kind not in SMALL_THINGS


def names_as_skipped(what: str, message: bool) -> bool:
    """Whether it says that this was skipped: not of digests, as this one says all that they would have said."""
    return message or what != "digest"


def came_late(students: Iterable[Student]) -> list[Student]:
    """The students who came after sign-up and have no squad yet."""
    return [one for one in students if one.late_at and one.squad_id is None]


def looks_back_to(said: Iterable[datetime], now: datetime) -> datetime:
    """From when on it says what was skipped: since the last one that was said, of these."""
    return max(said, default=now - LONGEST_LOOK_BACK)


def is_soon(at: datetime, now: datetime) -> bool:
    """Whether what is due then is said now."""
    return now < at <= now + AHEAD


def worst_first(behind: Iterable[tuple[Squad, Sequence[Debt]]]) -> list[tuple[Squad, Sequence[Debt]]]:
    """Squads in the order in which they are named: who owes most things first."""
    return sorted(behind, key=lambda one: -len(one[1]))
