"""Score sheets: one judge's marks for one squad.

A file of its own: the book of scores, which the event day takes along at start, holds nothing else of judging.
"""

from datetime import datetime
from typing import Literal

from storage.records.base import Record


class Sheet(Record):
    """One judge's marks for one squad under one rubric."""

    id: int
    judge_id: int
    squad_id: int
    event: str
    measure: str
    state: Literal["open", "started", "submitted", "recused"] = "open"
    marks: dict[str, int] = {}
    """Criterion key to level (1 is the lowest)."""
    comments: dict[str, str] = {}
    """Criterion key, or `sheet`, to comment."""
    position: int = 1
    """The place of this squad in the order in which the judge meets the squads."""
    version: int = 0
    updated_at: datetime | None = None

    @property
    def owed(self) -> bool:
        """Still to be marked or finished: neither handed in, nor given back because of a conflict of interest."""
        return self.state in ("open", "started")
