"""Protests of squads after the announcement, and the coaches' own book of incidents."""

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


class Incident(Record):
    """Something that happened, as a coach noted it."""

    id: int
    tryout_id: int
    what: str
    who: str
    decision: str
    happened_at: datetime
