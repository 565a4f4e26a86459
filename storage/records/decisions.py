"""What a coach decides beside the plan, with a reason that anyone may read."""

from datetime import datetime
from typing import Literal

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
