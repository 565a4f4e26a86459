"""The pace of live messages: how soon one is changed again, and how often one that is old."""

from datetime import datetime, timedelta

EDIT_PAUSE = timedelta(seconds=2)
"""A live message (a list, a board) is changed at most once in this time; changes in between are shown together."""
MOST_OLD_EDITS = 20
"""A message over an hour old is edited so often, then it is posted anew: the platform's own limit is unpublished."""


def rests_until(edited_at: datetime | None) -> datetime | None:
    """Until when a live message is left alone, so that changes that come in a burst are shown together."""
    return None if edited_at is None else edited_at + EDIT_PAUSE
