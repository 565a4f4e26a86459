"""What follows a result: feedback, protests and incidents, and places offered to squads and to single students."""

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


class MemberOffer(Record):
    """A place in the team offered to one student, or kept for one who steps in."""

    student_id: int
    tryout_id: int
    state: Literal["alternate", "open", "accepted", "declined", "lapsed"]
    made_at: datetime
    answer_by: datetime | None = None
    """As of a squad's offer; None of an alternate, and where the student was told no last moment."""
    answered_at: datetime | None = None


class Feedback(Record):
    """What a squad is told about its own work, as the coach left it."""

    squad_id: int
    text: str
    edited_at: datetime
    """When the coach kept this text; of a draft that was sent as it was, when it was sent."""
    sent_at: datetime | None = None
