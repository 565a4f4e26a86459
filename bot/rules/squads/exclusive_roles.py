"""Whoever takes part neither judges, keeps score, types in sheets nor coaches; and the other way round."""

from collections.abc import Collection, Iterator

from bot.rules.calendar.step_facts import Facts, Lack
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Squad

ONLY_STUDENTS = frozenset(("competitor",))
"""The roles beside which somebody may take part; every other one is kept apart from it."""


def may_compete(held: Collection[str]) -> bool:
    """Whether somebody who holds these roles may have a seat in a squad."""
    return ONLY_STUDENTS.issuperset(held)


def check_may_compete(held: Collection[str], manages_server: bool = False) -> None:
    """Whoever holds an office, judges, or is a coach by the platform's word has no seat in a squad.

    Raises:
        Refusal: `helper_cannot_compete`, `manager_cannot_compete`.
    """
    if not may_compete(held):
        raise Refusal(Reason.HELPER_CANNOT_COMPETE)
    if manages_server:
        raise Refusal(Reason.MANAGER_CANNOT_COMPETE)


def would_help(held: Collection[str], manages_server: bool) -> bool:
    """Whether somebody holds an office, or is a coach by the platform's word; a seat in a squad suspends it."""
    return manages_server or not may_compete(held)


def lacks(facts: Facts) -> Iterator[Lack]:
    """Who helps and has a seat in a squad is named to the coach before each step, from A to Z."""
    if facts.suspended:
        yield Lack("suspended", blocks=False, fields={"students": tuple(sorted(facts.suspended))})


def check_may_help(person: str, squad: Squad | None) -> None:
    """Whoever has a seat in a squad gets no office and does not judge.

    Raises:
        Refusal: `competitor_cannot_help` (person, squad).
    """
    if squad is not None:
        raise Refusal(Reason.COMPETITOR_CANNOT_HELP, person=person, squad=squad.name)
