"""Run sheets: what was typed in from paper, the first and the second time."""

from datetime import datetime

from storage.records.base import Record


class RunEntry(Record):
    """A part of a run sheet as somebody typed it in from paper: an attempt, or who was here."""

    squad_id: int
    event: str
    measure: str = ""
    """Empty: who was here."""
    number: int
    """Of the attempt, from 1; 0: who was here."""
    entry: int
    """1 or 2: typed in the first or the second time."""
    fields: dict[str, str]
    entered_by: int
    at: datetime
