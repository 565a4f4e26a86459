"""Places in a team of several squads, offered to single students."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record


class MemberOffer(Record):
    """A place in the team offered to one student, or kept for one who steps in."""

    student_id: int
    tryout_id: int
    state: Literal["alternate", "open", "accepted", "declined", "lapsed"]
    made_at: datetime
    answer_by: datetime | None = None
    """As of a squad's offer; None of an alternate, and where the student was told no last moment."""
    answered_at: datetime | None = None
