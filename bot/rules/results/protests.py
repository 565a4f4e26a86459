"""Protests against a result: who may file one, until when and how many at once; a verdict needs two coaches."""

from collections.abc import Collection, Iterable
from datetime import datetime

from bot.rules.calendar.evening_of_school_day import school_day_ends
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from storage.records.people import Squad, Student
from storage.records.plan import Plan
from storage.records.results import Protest
from storage.records.tryout import State

MOST_OPEN = 3
"""Protests of one squad that can be open at once."""
SHORTEST, LONGEST = 20, 1000
"""Characters of a protest."""
LONGEST_VERDICT = 300
"""Characters of why a protest is upheld or rejected."""


def protest_ends(plan: Plan, announced_at: datetime) -> datetime:
    """When protests end: in the evening of the plan's last school day for them after the announcement (UTC)."""
    return school_day_ends(plan, announced_at, plan.protest_days)


def protests_until(plan: Plan, announced_at: datetime) -> datetime | None:
    """When protests end; None where the plan has no days for them, so that a result is final at once."""
    return protest_ends(plan, announced_at) if plan.protest_days else None


def protests_run(plan: Plan, state: State, announced_at: datetime | None, now: datetime) -> bool:
    """Whether the days for protests run, so that a captain is shown the way to one."""
    return state == "announced" and announced_at is not None and now < protest_ends(plan, announced_at)


def check_time(plan: Plan, state: State, announced_at: datetime | None, now: datetime, why: str) -> None:
    """Whether protests are taken now: while a result is announced, until its days are over.

    Raises Refusal: `protest_early`, `protest_over` (why: what the form had).
    """
    if announced_at is None or state != "announced":
        raise Refusal(ResultReason.PROTEST_EARLY)
    if now >= protest_ends(plan, announced_at):
        raise Refusal(ResultReason.PROTEST_OVER, why=why)


def check_number(protests: Collection[Protest], squad_id: int, why: str) -> None:
    """Whether a squad may file one more. Raises Refusal: `protest_many` (most, why)."""
    if sum(one.squad_id == squad_id and one.agreed_at is None for one in protests) >= MOST_OPEN:
        raise Refusal(ResultReason.PROTEST_MANY, most=MOST_OPEN, why=why)


def check_text(text: str) -> None:
    """Whether it says enough, and not too much. Raises Refusal: `protest_length` (least, most)."""
    if not SHORTEST <= len(text) <= LONGEST:
        raise Refusal(ResultReason.PROTEST_LENGTH, least=SHORTEST, most=LONGEST)


def check_captain(squad: Squad, student_id: int) -> None:
    """The captain speaks for a squad. Raises Refusal: `protest_captain`."""
    if squad.captain_id != student_id:
        raise Refusal(ResultReason.PROTEST_CAPTAIN)


def coach_writes(squad: Squad, members: Collection[Student]) -> bool:
    """Whether a coach writes a squad's protest down: its captain has no account."""
    return any(one.id == squad.captain_id and one.platform_id is None for one in members)


def in_order(protests: Iterable[Protest]) -> list[Protest]:
    """In which order they stand in the register: oldest first."""
    return sorted(protests, key=lambda one: one.id)


def to_pick(protests: Iterable[Protest], most: int) -> list[Protest]:
    """Of more than can be picked from at once the newest, in the same order."""
    return in_order(protests)[-most:]


def check_undecided(one: Protest) -> None:
    """A protest is open until two coaches agree. Raises Refusal: `protest_decided`."""
    if one.agreed_at is not None:
        raise Refusal(ResultReason.PROTEST_DECIDED)


def was_right(one: Protest) -> bool:
    """Whether two coaches have upheld a protest."""
    return one.agreed_at is not None and one.verdict == "upheld"


def proposed_by(one: Protest, coach: int) -> bool:
    """Whether this coach has proposed the verdict, and so cannot be the second one who agrees."""
    return one.decided_by == coach


def check_second_coach(one: Protest, coach: int) -> None:
    """What one coach has decided stands only when another one agrees, however long that takes.

    Raises Refusal: `protest_no_verdict`, `protest_second`.
    """
    if one.verdict is None:
        raise Refusal(ResultReason.PROTEST_NO_VERDICT)
    if proposed_by(one, coach):
        raise Refusal(ResultReason.PROTEST_SECOND)


def makes_final(one: Protest, left_open: int, plan: Plan, announced_at: datetime | None, now: datetime) -> bool:
    """Whether a result is final with this verdict: rejected, the last that was open, and the days are over."""
    over = announced_at is not None and now >= protest_ends(plan, announced_at)
    return over and one.verdict == "rejected" and not left_open
