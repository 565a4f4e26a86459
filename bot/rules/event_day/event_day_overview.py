"""The coach's page of the event day: the next step, from the list for the draw to the board; who has no time."""

from collections.abc import Collection, Iterable
from typing import Literal

from storage.records.event_day import DayDraw, DaySlot
from storage.records.people import Squad

NextStep = Literal["publish", "draw", "make", "tell", "board"]


def next_step(draw: DayDraw | None, slots: int) -> NextStep:
    """What the coach is led to: publish the list, draw, make the timetable of `slots`, tell it; then the board."""
    if draw is None:
        return "publish"
    if draw.key is None:
        return "draw"
    if not slots:
        return "make"
    return "board" if draw.told_at is not None else "tell"


def left_out(squads: Iterable[Squad], slots: Collection[DaySlot]) -> list[Squad]:
    """The squads that have no time in a timetable that is made."""
    having = {slot.squad_id for slot in slots}
    return [squad for squad in squads if slots and squad.id not in having]
