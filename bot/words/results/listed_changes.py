"""What is listed with the result: changes, exceptions, and what was opened again."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from bot.words.core.lists_in_text import fitting
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape

MORE_CHANGES = "- and {more} more, for which there is no room here: ask your coach"


@dataclass(frozen=True)
class Change:
    """One change of the plan since the brief."""

    at: datetime
    what: Sequence[str]
    reason: str
    """Empty where it is not for everyone."""


_EXCEPTIONS = {
    "seat": "a student has a seat in {squad} that the plan does not give",
    "small": "{squad} may take part though it is small",
    "withdrawn": "{squad} was taken out",
    "grace": "{squad} was given time to find members",
    "extension": "{squad} had more time for the hand-in",
    "merged": "two squads became {squad}",
    "part": "it was decided whether the part of somebody who left {squad} stays",
}


def late_change(kind: str, event: str) -> str:
    """What was recorded, or opened to be corrected, at the table after judging had been closed.

    Everyone reads it, so it does not say of which squad: it may be the one that asked for a check of its result.
    """
    if kind == "correction":
        return f"what one squad has in {event} was opened for correction after judging had been closed"
    return f"{event} of one squad was recorded after judging had been closed"


def protest_upheld() -> str:
    """A squad was right with its question about the result; which one it was, only its room and coaches read."""
    return "a question about the result was right"


def exception(kind: str, squad: str) -> str:
    """What a coach decided for one squad beside the plan."""
    return _EXCEPTIONS[kind].format(squad=squad or "a squad")


def opened_again(sheet_id: int | None) -> str:
    """What was opened again after judging had been closed."""
    return "judging was opened again" if sheet_id is None else "one score sheet was opened again"


def change_lines(changes: Sequence[Change], room: int) -> str:
    """What was changed since the brief or decided beside the plan, with the reasons, as far as there is room."""
    if not changes:
        return "Nothing was changed since the brief."
    head = f"Changed and decided ({count(len(changes), 'time')}):"
    lines = [
        "- " + "; ".join(map(escape, change.what)) + (f" (reason: {escape(change.reason)})" if change.reason else "")
        for change in changes
    ]
    return "\n".join((head, *fitting(lines, room - len(head) - len(MORE_CHANGES), MORE_CHANGES)))
