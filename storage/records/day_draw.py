"""The draw of the order of the event day."""

from datetime import datetime

from storage.records.base import Record


class DayDraw(Record):
    """The draw of the order in which squads run."""

    tryout_id: int
    pool: tuple[int, ...]
    """The squads among which is drawn, in the order in which they were published."""
    published_at: datetime
    key: str | None = None
    drawn_at: datetime | None = None
    told_at: datetime | None = None
    """Since when squads have read the timetable."""
