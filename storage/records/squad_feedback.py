"""Feedback for a squad."""

from datetime import datetime

from storage.records.base import Record


class Feedback(Record):
    """What a squad is told about its own work, as the coach left it."""

    squad_id: int
    text: str
    edited_at: datetime
    """When the coach kept this text; of a draft that was sent as it was, when it was sent."""
    sent_at: datetime | None = None
