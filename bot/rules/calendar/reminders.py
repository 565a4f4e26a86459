"""What a squad still owes, and until when a reminder that comes late must wait."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

from bot.rules.calendar.calendar import Schedule, outside_quiet
from bot.rules.calendar.school_days import SchoolDays
from storage.records.people import Student
from storage.records.plan import Plan

RINGING_DAYS = 3
"""In so many last school days those who have something left to do are rung (common practice, no source)."""
LAST_HOUR = timedelta(hours=1)
ON_TIME = timedelta(minutes=5)
"""Later than this counts as late: the bot was down."""


@dataclass(frozen=True)
class SquadFacts:
    """What is known of one squad. What is None does not concern this try-out."""

    smallest: int
    """Members it needs."""
    members: int
    readers: int = 0
    """Members with an account, who can open the brief."""
    opened: int | None = None
    """Of these, how many have opened it; None before it is out."""
    slots_left: int | None = None
    """Practice turns the squad may still book."""
    hand_ins: Mapping[str, int] = field(default_factory=dict)
    """Members who have handed in their part, by the name of the piece."""


@dataclass(frozen=True)
class Debt:
    """One thing a squad still owes; `kind` names its line in the words."""

    kind: Literal["members", "brief", "slot", "hand-in"]
    number: int
    """How many are missing."""
    piece: str = ""
    """The name of the piece, where parts of it are missing."""
    who: tuple[Student, ...] = ()
    """The members who have to do it, where it is for each to do."""


def school_days_left(plan: Plan, schedule: Schedule, now: datetime) -> int:
    """School days after today, the day of the deadline among them."""
    today, last = now.astimezone(schedule.zone).date(), schedule.deadline.astimezone(schedule.zone).date()
    school = SchoolDays(plan.calendar)
    days = (today + timedelta(days=ahead) for ahead in range(1, (last - today).days + 1))
    return sum(school.closed_because(day) is None for day in days)


def rings(school_days: int, last_hours: bool) -> bool:
    """Whether a reminder rings on the phones of those it names, or only stands in their room."""
    return last_hours or school_days <= RINGING_DAYS


def is_last_hour(deadline: datetime, now: datetime) -> bool:
    """Whether a reminder says that it is the last hour, and not one of the last hours."""
    return deadline - now <= LAST_HOUR


def owed(squad: SquadFacts) -> tuple[Debt, ...]:
    """Everything a squad still owes, the most pressing first; empty when it owes nothing."""
    debts = (
        Debt("members", squad.smallest - squad.members),
        Debt("brief", 0 if squad.opened is None else squad.readers - squad.opened),
        Debt("slot", squad.slots_left or 0),
        *(Debt("hand-in", squad.members - there, piece) for piece, there in squad.hand_ins.items()),
    )
    return tuple(debt for debt in debts if debt.number > 0)


def who_owes(debt: Debt, members: Sequence[Student], parts: Mapping[str, Collection[int]]) -> tuple[Student, ...]:
    """The members who have to do it themselves; nobody where it is for the squad as a whole.

    `parts` says by piece which members have handed in. Without an account nobody can open the brief.
    """
    if debt.kind == "brief":
        return tuple(one for one in members if one.platform_id is not None and one.brief_opened_at is None)
    if debt.kind == "hand-in":
        return tuple(one for one in members if one.id not in parts[debt.piece])
    return ()


def squad_facts(plan: Plan, members: Sequence[Student], may_be_small: bool, brief_is_out: bool) -> SquadFacts:
    """The facts of a squad: its size, unless it may be small, and who has opened the brief."""
    readers = [one for one in members if one.platform_id is not None]
    return SquadFacts(
        smallest=1 if may_be_small else plan.squads.smallest,
        members=len(members),
        readers=len(readers),
        opened=sum(one.brief_opened_at is not None for one in readers) if brief_is_out else None,
    )


def held_until(plan: Plan, due: datetime, now: datetime) -> datetime | None:
    """Until when a reminder that comes late must wait because it is night; None when it may go now."""
    if now - due <= ON_TIME:
        return None
    morning, waits = outside_quiet(now, plan.calendar, ZoneInfo(plan.zone))
    return morning if waits else None
