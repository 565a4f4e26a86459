"""The place that is offered to a squad."""

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
