"""The event day: who is here, and what is tapped while a run lasts."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record


class Tick(Record):
    """Whether one member of a squad is here for an event, as it was noted last."""

    squad_id: int
    event: str
    student_id: int
    here: bool
    noted_by: int
    noted_at: datetime


class PadRun(Record):
    """One run at a run pad; its taps become an attempt when it is saved."""

    id: int
    squad_id: int
    event: str
    measure: str
    number: int
    """Of the attempt, from 1; run-offs apart."""
    run_off: bool = False
    state: Literal["open", "saved", "interrupted"] = "open"
    """`interrupted`: through no fault of the squad's, so that it runs again."""
    opened_at: datetime
    started_at: datetime | None = None
    """The platform's own time of the press that started the clock."""
    closed_at: datetime | None = None
    attempt_id: int | None = None


class Tap(Record):
    """One press on a run pad: one more or one less of an item."""

    id: int
    run_id: int
    item: str
    step: int
    """1 or -1."""
    tapped_by: int
    tapped_at: datetime
    undone_at: datetime | None = None
    unseen: Literal["tap", "undo"] | None = None
    """The answer to this press, or to undoing it, did not reach the phone."""


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


class Stopwatch(Record):
    """The clock of one attempt that is not on record yet."""

    squad_id: int
    measure: str
    """Event and measure, such as `chain.time`."""
    attempt: str
    """Its number, or `r1` for a run-off."""
    planning_at: datetime | None = None
    """Since when the squad plans; None once the clock runs, and where nobody plans."""
    started_at: datetime | None = None
    """Since when the clock runs."""
