"""Surprises by waves: for which squads one has started before it has for all."""

from datetime import datetime

from storage.records.base import Record


class WaveStart(Record):
    """A surprise has started for one squad, before it has for all."""

    squad_id: int
    event: str
    started_at: datetime
    started_by: int
