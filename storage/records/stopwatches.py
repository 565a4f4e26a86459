"""The stopwatch of an attempt that is not on record yet."""

from datetime import datetime

from storage.records.base import Record


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
