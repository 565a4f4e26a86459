"""What follows when it has changed who judges, or who sees which squad."""

from collections.abc import Awaitable, Callable
from datetime import datetime

from storage.records.tryout import Tryout
from storage.tables.sql_session import Transaction

Follow = Callable[[Transaction, Tryout, datetime], Awaitable[None]]
FOLLOWERS: list[Follow] = []
"""What other subjects do then."""


def when_judges_change(follow: Follow) -> Follow:
    """Mark a function `async (db: Transaction, tryout, now) -> None` as what follows each change."""
    FOLLOWERS.append(follow)
    return follow


async def judges_changed(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """Somebody judges from now on, or no more, or sees other squads than before."""
    for follow in FOLLOWERS:
        await follow(db, tryout, now)
