"""The paper kit: what is in it, in which order, and what goes into a file of its own because it is sealed."""

from collections.abc import Collection, Sequence
from typing import Literal

from storage.records.plan import Event

Part = Literal["timetable", "roster", "equipment", "run sheets", "score sheets", "text"]
"""The text is the brief, or the task of what is sealed."""
IN_ORDER: tuple[Part, ...] = ("timetable", "roster", "equipment", "run sheets", "score sheets", "text")
NOT_SEALED: tuple[Part, ...] = ("timetable", "roster")
"""What the sealed file does not hold: there is nothing sealed in it."""


def parts(sealed: bool) -> tuple[Part, ...]:
    """What is printed into the file that everybody may see, or into the sealed one."""
    return tuple(part for part in IN_ORDER if not (sealed and part in NOT_SEALED))


def known_events(events: Sequence[Event], secret: Collection[Event]) -> list[Event]:
    """The events of the file that everybody may see: all but those that are `secret` for somebody."""
    return [event for event in events if event not in secret]
