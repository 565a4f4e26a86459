"""What is recorded or corrected at the table after judging was closed."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record


class LateChange(Record):
    """One squad's attempts in one event changed, or may be changed, although totals could be seen."""

    id: int
    tryout_id: int
    squad_id: int
    event: str
    kind: Literal["missing", "correction"]
    """There was nothing on record, and now there is; what was on record may be corrected."""
    reason: str
    """Empty for `missing`."""
    asked_by: str
    """Who asked, as a pseudonym."""
    asked_at: datetime
    agreed_at: datetime | None = None
    shut_at: datetime | None = None
