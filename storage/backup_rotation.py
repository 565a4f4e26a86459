"""Which backups are kept: one a day for a week, one a week for four weeks."""

from collections.abc import Collection
from datetime import UTC, datetime, timedelta

DAILY = 7
"""Days of which the newest backup is kept."""
WEEKLY = 4
"""Weeks of which the newest is kept; so long also what a file held before it was replaced."""
LEFT_OVER = timedelta(days=1)
"""What a crash in the middle of a backup has left is deleted after this: nobody can still be writing it."""


def kept(made: Collection[datetime], now: datetime) -> set[datetime]:
    """Which backups to keep: the newest of each of the last 7 days, and of each of the last 4 weeks (Monday to Sunday).

    Days and weeks are those of UTC and end with the present ones. A backup that seems to come from the future is kept:
    the clock is wrong, or was.
    """
    stays = {at for at in made if at > now}
    day_of, week_of = now.astimezone(UTC).date(), _week(now)
    newest_of_day: dict[object, datetime] = {}
    newest_of_week: dict[object, datetime] = {}
    for at in sorted(at for at in made if at <= now):
        if (day_of - at.astimezone(UTC).date()).days < DAILY:
            newest_of_day[at.astimezone(UTC).date()] = at
        if week_of - _week(at) < WEEKLY:
            newest_of_week[_week(at)] = at
    return stays | set(newest_of_day.values()) | set(newest_of_week.values())


def is_kept_aside(made_at: datetime, now: datetime) -> bool:
    """Whether what a file held before it was brought up to date or replaced is still kept."""
    return made_at > now - timedelta(weeks=WEEKLY)


def _week(at: datetime) -> int:
    """The number of a UTC week that begins on a Monday, counted without gaps (ordinal day 1 was a Monday)."""
    return (at.astimezone(UTC).date().toordinal() - 1) // 7
