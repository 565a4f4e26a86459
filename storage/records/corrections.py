"""What the coach has put right, and how it stood before and afterwards."""

from datetime import datetime
from typing import Any, Literal

from storage.records.base import Record

CorrectionKind = Literal["details", "move", "join", "rename"]
"""Name and section of a student; the student's squad; two records of one student; the name of a squad."""


class Correction(Record):
    """One correction of a student or of a squad; it can be undone while `after` still holds."""

    id: int = 0
    tryout_id: int
    kind: CorrectionKind
    student_id: int | None = None
    squad_id: int | None = None
    decision_id: int | None = None
    """The exception with a reason that it needed."""
    before: dict[str, Any]
    after: dict[str, Any]
    made_at: datetime
    undone_at: datetime | None = None
