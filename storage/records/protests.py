"""Protests of squads after the announcement."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record


class Protest(Record):
    """What a squad questions; it is open until two coaches have decided."""

    id: int
    tryout_id: int
    squad_id: int
    text: str
    filed_at: datetime
    verdict: Literal["upheld", "rejected"] | None = None
    reason: str = ""
    decided_by: int | None = None
    """The account of the coach who proposed the verdict."""
    agreed_at: datetime | None = None
    """Since when the verdict stands."""
