"""What follows when what is on record at the table has changed: an attempt, or a squad that does not take part."""

from collections.abc import Awaitable, Callable
from datetime import datetime

from storage.records.tryout import Tryout
from storage.tables.sql_session import Transaction

Follow = Callable[[Transaction, Tryout, datetime], Awaitable[None]]
FOLLOWERS: list[Follow] = []
"""What other subjects do then."""


def when_table_changes(follow: Follow) -> Follow:
    """Mark a function `async (db: Transaction, tryout, now) -> None` as what follows each change."""
    FOLLOWERS.append(follow)
    return follow


async def table_changed(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Something on record at the table has changed."""
    for follow in FOLLOWERS:
        await follow(db, tryout, now)
