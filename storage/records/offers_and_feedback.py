"""What follows the announcement: the place that is offered, and the feedback for each squad."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record

OfferState = Literal["open", "accepted", "declined", "lapsed"]


class Offer(Record):
    """The place, offered to one squad; a squad is asked once."""

    id: int
    tryout_id: int
    squad_id: int
    state: OfferState = "open"
    what: str
    """What the place is, in the coach's words."""
    made_at: datetime
    answer_by: datetime
    """Afterwards the coach may let it lapse; until then an answer still counts."""
    answered_at: datetime | None = None


class Feedback(Record):
    """What a squad is told about its own work, as the coach left it."""

    squad_id: int
    text: str
    edited_at: datetime
    """When the coach kept this text; of a draft that was sent as it was, when it was sent."""
    sent_at: datetime | None = None


class MemberOffer(Record):
    """A place in the team offered to one student, or kept for one who steps in."""

    student_id: int
    tryout_id: int
    state: Literal["alternate", "open", "accepted", "declined", "lapsed"]
    made_at: datetime
    answer_by: datetime | None = None
    """As of a squad's offer; None of an alternate, and where the student was told no last moment."""
    answered_at: datetime | None = None
