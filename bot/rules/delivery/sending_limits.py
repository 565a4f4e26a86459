"""Limits of sending: how many addresses at a time, how long a request may take, how often and how late one may edit."""

from datetime import UTC, datetime, timedelta

ADDRESSES_AT_ONCE = 4
"""So many addresses (rooms, direct messages) are served at a time."""
LOOKS_APART_S = 0.02
"""Between two looks at the outbox while something is on its way, which commits several times."""
REQUEST_S = 90.0
"""No call of the platform may take longer; what it did by then is looked up."""
CLOCK_SLACK = timedelta(minutes=5)
"""How far the platform's clock may be behind ours."""
LOOKED_THROUGH = 1000
"""How many messages after the claim are looked through for ours, which was posted right after it."""
FINISH_SENDING_S = 2.5
"""How long a message that is on its way may take when we stop."""
EDIT_PAUSE = timedelta(seconds=2)
"""A live message (a list, a board) is changed at most once in this time; changes in between are shown together."""
EPOCH_MS = 1_420_070_400_000
"""The platform's first moment, 2015-01-01, in milliseconds since 1970 (its public reference, "Snowflakes")."""
FREELY_EDITED = timedelta(hours=1)
"""Edits of messages older than this are counted by the platform, and refused beyond an unpublished number (30046)."""
MOST_OLD_EDITS = 20
"""A message over an hour old is edited so often, then it is posted anew: the platform's own limit is unpublished."""


def rests_until(edited_at: datetime | None) -> datetime | None:
    """Until when a live message is left alone, so that changes that come in a burst are shown together."""
    return None if edited_at is None else edited_at + EDIT_PAUSE


def made_at(snowflake: int) -> datetime:
    """The instant at which the platform made an id, to the millisecond."""
    return datetime.fromtimestamp(((snowflake >> 22) + EPOCH_MS) / 1000, UTC)


def freely_edited(message_id: int, now: datetime) -> bool:
    """Whether a message is young enough to be edited as often as one likes."""
    return now - made_at(message_id) < FREELY_EDITED
