"""Who of a squad is here, and how much equipment it is given for that; whether it may start, when its room is told."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from storage.records.event_day import Tick
from storage.records.people import Squad, Student
from storage.records.plan import Equipment, Event

_PIECES = re.compile(r"present(?: ?/ ?(?P<by>\d+))?(?: ?(?P<sign>[-+]) ?(?P<more>\d+))?")


@dataclass(frozen=True)
class Attendance:
    """Who of a squad is here for one event."""

    members: tuple[int, ...]
    """The squad's members now, in the order of the roster."""
    here: frozenset[int] | None
    """The members who are here; None until somebody has looked."""

    @property
    def present(self) -> int | None:
        """How many are here; None until somebody has looked."""
        return None if self.here is None else len(self.here)


def attendance(members: Sequence[int], ticks: Iterable[Tick]) -> Attendance:
    """What was noted of those who are members now; who joined since then counts as away until ticked."""
    noted = list(ticks)
    here = frozenset(tick.student_id for tick in noted if tick.here and tick.student_id in members)
    return Attendance(tuple(members), here if noted else None)


def is_ticked(found: Attendance, student: int) -> bool:
    """Whether a member is ticked as here when the list is opened: everybody, until somebody has looked."""
    return found.here is None or student in found.here


def is_asked(event: Event) -> bool:
    """Whether the plan asks who is here before a squad starts."""
    return event.equipment is not None or event.least_present is not None


def is_to_tick(event: Event, found: Attendance) -> bool:
    """Whether somebody has to tick who is here before the squad may start."""
    return is_asked(event) and found.present is None


def too_few(event: Event, present: int) -> bool:
    """Whether fewer are here than the plan asks for."""
    return present < (event.least_present or 1)


def check_may_start(event: Event, found: Attendance, by_coach: bool) -> None:
    """Whether a squad may start now. Raises Refusal: `presence_first`, `present_too_few` (here, least)."""
    if is_to_tick(event, found):
        raise Refusal(DayReason.PRESENCE_FIRST)
    if found.present is not None and too_few(event, found.present) and not by_coach:
        raise Refusal(DayReason.PRESENT_TOO_FEW, here=found.present, least=event.least_present or 1)


def check_anybody(squad: Squad, members: Sequence[Student]) -> None:
    """There is somebody to tick. Raises Refusal: `nobody_to_tick` (squad)."""
    if not members:
        raise Refusal(DayReason.NOBODY_TO_TICK, squad=squad.name)


def room_is_told(before: Attendance, after: Attendance) -> bool:
    """Whether the squad's room reads what was ticked: when the number of those who are here has changed."""
    return after.present != before.present


def pieces(equipment: Equipment, present: int) -> int:
    """How many pieces a squad is given: `present / d`, rounded up, with what is added or taken off, at least 0."""
    found = _PIECES.fullmatch(equipment.pieces)
    assert found is not None, "the plan holds no other formula"
    shared = -(-present // int(found["by"] or 1))
    more = int(found["more"] or 0)
    return max(0, shared - more if found["sign"] == "-" else shared + more)
