"""A student picks the own name: in which order names stand, until when, what if it is taken, what the coach is told."""

from collections.abc import Iterable

from bot.rules.squads.latecomers import check_may_come_late
from storage.records.class_list import ClaimKind, ClassListEntry
from storage.records.people import Student
from storage.records.tryout import State

MOST_TOLD = 3
"""Taken names that one person picks of which the coach is told; more is a game, and would bury what else is in the
office."""


def coach_is_told(taken_names: int) -> bool:
    """Whether the coach hears of one more taken name, of so many that this person has picked."""
    return taken_names <= MOST_TOLD


def kind_of_claim(holder: Student | None) -> ClaimKind:
    """What a taken name means: its student was entered by the coach and has an account now, or two people want it."""
    return "has-account" if holder is not None and holder.platform_id is None else "picked-twice"


def comes_late(state: State, signup_open: bool) -> bool:
    """Whether who picks a name now is late, so that the coach must find a squad for them.

    Raises:
        Refusal: as `check_may_come_late`.
    """
    if not signup_open:
        check_may_come_late(state)
    return not signup_open


def in_order(entries: Iterable[ClassListEntry]) -> list[ClassListEntry]:
    """Names as people find them wherever they can be picked: by section, and A to Z in each."""
    return sorted(entries, key=lambda one: (one.section, one.folded))
