"""Who may start, join, leave and lead a squad, as the sheet on the wall would say it."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Squad, Student
from storage.records.plan import Plan
from storage.records.tryout import State

MAY_COME_LATE: tuple[State, ...] = ("signup", "window", "judging")
"""While a try-out is in one of these states a coach can still place someone who came after sign-up had closed."""


def why_not_late(state: State) -> Refusal | None:
    """Why nobody can come late, or be placed by a coach, now: `signup_not_open`, `late_over`; None where they can."""
    if state in MAY_COME_LATE:
        return None
    return Refusal(Reason.SIGNUP_NOT_OPEN if state == "drafting" else Reason.LATE_OVER)


def signup_is_open(state: State, closes: datetime, now: datetime) -> bool:
    """Squads may still change."""
    return state in ("signup", "window") and now < closes


def check_signup_open(state: State, closes: datetime, now: datetime) -> None:
    """Squads may change only while sign-up is open.

    Raises:
        Refusal: `signup_not_open`, or `signup_closed`.
    """
    if state == "drafting":
        raise Refusal(Reason.SIGNUP_NOT_OPEN)
    if not signup_is_open(state, closes, now):
        raise Refusal(Reason.SIGNUP_CLOSED)


def check_section(plan: Plan, section: str) -> None:
    """A section must be one of the plan's.

    Raises:
        Refusal: `unknown_section` (section).
    """
    if section not in plan.sections:
        raise Refusal(Reason.UNKNOWN_SECTION, sections=", ".join(plan.sections))


def check_unattached(squad: Squad | None) -> None:
    """Nobody is in two squads; `squad` is the one that somebody is in.

    Raises:
        Refusal: `already_in_squad` (squad).
    """
    if squad is not None:
        raise Refusal(Reason.ALREADY_IN_SQUAD, squad=squad.name)


def check_can_join(plan: Plan, student: Student, squad: Squad, members: Sequence[Student]) -> None:
    """A squad takes students of its own section while it has a free seat.

    Raises:
        Refusal: `squad_gone`, `other_section` (squad, section), or `squad_full` (squad).
    """
    if squad.withdrawn:
        raise Refusal(Reason.SQUAD_GONE)
    if student.section != squad.section:
        raise Refusal(Reason.OTHER_SECTION, squad=squad.name, section=squad.section)
    if len(members) >= plan.squads.largest:
        raise Refusal(Reason.SQUAD_FULL, squad=squad.name, most=plan.squads.largest)


def members_missing(plan: Plan, members: Sequence[Student]) -> int:
    """How many more students a squad needs before it may take part."""
    return max(0, plan.squads.smallest - len(members))


def check_captain(student: Student, squad: Squad) -> None:
    """Only the captain renames the squad, hands over and removes members.

    Raises:
        Refusal: `only_captain`.
    """
    if squad.captain_id != student.id:
        raise Refusal(Reason.ONLY_CAPTAIN)


def next_captain(squad: Squad, stay: Sequence[Student]) -> Student | None:
    """Who leads when someone leaves: the captain, else the member who joined first; None when nobody is left."""
    for member in stay:
        if member.id == squad.captain_id:
            return member
    return min(stay, key=lambda one: (one.joined_at is not None, one.joined_at, one.id), default=None)
