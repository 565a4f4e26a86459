"""The event day: draw, timetable, who is here, safety checks and stops, surprises by waves, and typed run sheets."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record


class DayDraw(Record):
    """The draw of the order in which squads run."""

    tryout_id: int
    pool: tuple[int, ...]
    """The squads among which is drawn, in the order in which they were published."""
    published_at: datetime
    key: str | None = None
    drawn_at: datetime | None = None
    told_at: datetime | None = None
    """Since when squads have read the timetable."""


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


class Tick(Record):
    """Whether one member of a squad is here for an event, as it was noted last."""

    squad_id: int
    event: str
    student_id: int
    here: bool
    noted_by: int
    noted_at: datetime


class SafetyCheck(Record):
    """Somebody has checked the safety of an event."""

    id: int
    tryout_id: int
    event: str
    squad_id: int | None = None
    """For one squad of a wave; None for all."""
    checked_by: int
    checked_at: datetime


class SafetyStop(Record):
    """Somebody pressed stop."""

    id: int
    tryout_id: int
    event: str
    reason: str
    stopped_by: int
    stopped_at: datetime
    lifted_at: datetime | None = None


class WaveStart(Record):
    """A surprise has started for one squad, before it has for all."""

    squad_id: int
    event: str
    started_at: datetime
    started_by: int


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
