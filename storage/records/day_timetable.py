"""The event day's timetable: runs and interviews with their times."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record


class DaySlot(Record):
    """A run or an interview with its time and place."""

    id: int
    squad_id: int
    kind: Literal["run", "interview"]
    event: str
    number: int = 1
    """Which attempt a run is."""
    table_number: int | None = None
    judges: tuple[int, ...] = ()
    begins_at: datetime
    ends_at: datetime
    misses: int = 0
    """How often the squad was not there."""
    called_at: datetime | None = None
    closed_at: datetime | None = None
    """It took place without an attempt on record, or will not take place."""
