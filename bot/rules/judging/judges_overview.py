"""The judges as a coach sees them: in which order, and what can be done about the close."""

from collections.abc import Sequence
from typing import Literal

from bot.rules.judging.my_sheets import Entry
from storage.records.people import Judge
from storage.records.tryout import State

Close = Literal["resume", "close", "close-now", "not-yet"]
"""Judging can be opened again, can be closed, is to be closed as every sheet is in, or cannot be closed now."""


def in_order(judges: Sequence[Judge]) -> list[Judge]:
    """The judges in the order in which they are listed: by their numbers."""
    return sorted(judges, key=lambda judge: judge.number)


def about_closing(state: State, entries: Sequence[Entry]) -> Close:
    """What the button about the close does."""
    if state == "settled":
        return "resume"
    if state != "judging":
        return "not-yet"
    return "close-now" if entries and not any(entry.owed for entry in entries) else "close"
