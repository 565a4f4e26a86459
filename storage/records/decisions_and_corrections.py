"""What a coach decides beside the plan, with a reason, and what a coach has put right, with how it stood before."""

from datetime import datetime
from typing import Any, Literal

from storage.records.base import Record


class Decision(Record):
    """One decision: a plan changed after the brief, or an exception made for a squad or a student."""

    id: int
    tryout_id: int
    at: datetime
    kind: Literal["plan", "seat", "small", "withdrawn", "extension", "merged", "part", "grace"]
    """The plan was changed; a student got a seat that the plan does not give; a squad may take part though it is small;
    a squad was taken out; a squad has more time; two squads were made one; a leaver's part stays or goes; a
    squad that is too small has time to find members."""
    squad_id: int | None = None
    student_id: int | None = None
    changes: tuple[str, ...] = ()
    """For `plan`: what was changed, as sentences that give no secret away."""
    sha256: str | None = None
    """For `plan`: the fingerprint of the plan from then on."""
    reason: str
    """Empty for `part`: why somebody leaves is for coaches alone."""


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
