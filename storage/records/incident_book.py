"""The coaches' own book of incidents."""

from datetime import datetime

from storage.records.base import Record


class Incident(Record):
    """Something that happened, as a coach noted it."""

    id: int
    tryout_id: int
    what: str
    who: str
    decision: str
    happened_at: datetime
