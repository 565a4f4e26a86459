"""Safety at the tables: who has checked, and who pressed stop."""

from datetime import datetime

from storage.records.base import Record


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
