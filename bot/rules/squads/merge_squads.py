"""Two squads are made one: until when, which are offered first, and when the new one is too large or lacks judges."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.latecomers import MAY_COME_LATE
from storage.records.people import Squad
from storage.records.plan import Event, Plan
from storage.records.tryout import State

MOST_ASKED = 4
"""Events of which it is asked whose attempts and sheets count; a form has no room for more beside the reason."""
COUNTS_AT_FIRST: Literal["stays", "goes"] = "stays"
"""Whose attempts and sheets are chosen in the form at first: those of the squad that stays, or of the one that goes."""


@dataclass(frozen=True)
class Done:
    """What the squad that goes has in an event."""

    event: Event
    attempts: int
    sheets: int
    both: bool
    """Whether the squad that stays has something in it, too."""

    @property
    def field(self) -> str:
        """The field of the form that asks whose counts."""
        return f"counts-{self.event.key}"


def check_may_merge(state: State) -> None:
    """Squads can be merged from sign-up on until judging is closed. Raises Refusal `merge_late`."""
    if state not in MAY_COME_LATE:
        raise Refusal(Reason.MERGE_LATE)


def check_two(goes: Squad, stays: Squad) -> None:
    """A squad does not become part of itself. Raises Refusal `merge_same`."""
    if goes.id == stays.id:
        raise Refusal(Reason.MERGE_SAME)


def more_time_of(goes: datetime | None, stays: datetime | None) -> datetime | None:
    """Until when the new squad hands in, where one of the two was given more time: the later end of both."""
    return max((one for one in (goes, stays) if one is not None), default=None)


def in_order(goes: Squad, sizes: Iterable[tuple[Squad, int]]) -> list[tuple[Squad, int]]:
    """The squads that this one can become part of, with their members: of its section first, small ones before."""
    others = [(one, size) for one, size in sizes if one.id != goes.id]
    return sorted(others, key=lambda row: (row[0].section != goes.section, row[1]))


def asked(done: Sequence[Done]) -> list[Done]:
    """The events of which the form asks whose attempts and sheets count; in others those of the squad that stays do."""
    return [one for one in done if one.both][:MOST_ASKED]


def theirs_count(both: bool, chosen: bool) -> bool:
    """Whether in an event what the squad that goes has done counts for the new one, and not what the other has.

    `both`: each has something in it; then those of the squad that stays count, unless the coach has `chosen` the other.
    """
    return chosen or not both


def too_large(plan: Plan, members: int) -> bool:
    """Whether the new squad has more members than the plan says; it may, with a reason that is shown."""
    return members > plan.squads.largest


def lacks_judges(seats: int, mine: int, wanted: int | None) -> bool:
    """Whether fewer judges see the new squad than each should have; `seats` are those of the whole panel.

    Nobody is missing before judges are shared out, or where all of them see every squad (`wanted` is None).
    """
    return wanted is not None and bool(seats) and mine < wanted
