"""Signing up: while what squads may change, who may be in which one, and which are offered in which order."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Squad, Student
from storage.records.plan import Plan
from storage.records.tryout import State


def signup_is_open(state: State, closes: datetime, now: datetime) -> bool:
    """Squads may still change."""
    return state in ("signup", "window") and now < closes


def panel_is_shown(state: State) -> bool:
    """Whether the pinned message of sign-up stands there: until the try-out is put away."""
    return state != "archived"


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


def check_picked(plan: Plan, me: Student | None, has_list: bool) -> None:
    """Where there is a class list, nobody goes on who has not picked a name from it.

    Raises:
        Refusal: `pick_yourself` (sections).
    """
    if me is None and has_list:
        raise Refusal(Reason.PICK_YOURSELF, sections=plan.sections)


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


def with_free_seats(sizes: Iterable[tuple[Squad, int]], largest: int) -> list[tuple[Squad, int]]:
    """Of squads with their numbers of members those that can take more, each with how many, by number."""
    found = [(squad, largest - members) for squad, members in sizes if members < largest]
    return sorted(found, key=lambda row: row[0].number)


def proposed_name(me: Student | None, account: str) -> str:
    """What stands as the name in forms at first: as the student is known, else what the account is called."""
    return account if me is None else me.name


def proposed_section(me: Student | None) -> str:
    """The section that is chosen in the form for a new squad at first: the one the student is known in, else none."""
    return "" if me is None else me.section


def entered_name(typed: str, known: Student | None, account: str) -> str:
    """Under which name somebody is entered: as it was typed, else as the form would have proposed it."""
    return typed or proposed_name(known, account)


def section_by_code(known: Student | None, squad: Squad) -> str:
    """In which section somebody is entered who types a join code: the one the student is known in, else the squad's."""
    return squad.section if known is None else known.section
