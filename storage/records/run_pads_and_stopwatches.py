"""Attempts that are not on record yet: run pads with what is tapped on them, and stopwatches."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record


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
    tapped: bool = False
    """Whether there is any tap, where a list of open runs asks for it."""


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
