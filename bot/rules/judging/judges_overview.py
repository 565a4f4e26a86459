"""The judges as a coach sees them: in which order, who still owes sheets, and what can be done about the close."""

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


def judges_who_owe(judges: Sequence[Judge], entries: Sequence[Entry]) -> list[tuple[Judge, list[Entry]]]:
    """Each judge who owes something with the sheets owed, in the same order."""
    owed = [(judge, owed_by(judge, entries)) for judge in in_order(judges)]
    return [(judge, sheets) for judge, sheets in owed if sheets]


def owed_by(judge: Judge, entries: Sequence[Entry]) -> list[Entry]:
    """The sheets that a judge still has to mark or to finish, whether or not that can be done now."""
    return [entry for entry in entries if entry.sheet.judge_id == judge.id and entry.owed]
