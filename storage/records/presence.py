"""Who of a squad is here for an event."""

from datetime import datetime

from storage.records.base import Record


class Tick(Record):
    """Whether one member of a squad is here for an event, as it was noted last."""

    squad_id: int
    event: str
    student_id: int
    here: bool
    noted_by: int
    noted_at: datetime
