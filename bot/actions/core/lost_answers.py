"""Answers that did not reach the phone, although what was asked for has been done: what follows then."""

from collections.abc import Callable, Coroutine
from datetime import datetime
from typing import Any

from bot.words.core.action_keys import AnyKey
from storage.store import Store
from storage.tables.sql_session import Transaction

Follow = Callable[[Transaction, int, datetime], Coroutine[Any, Any, None]]
FOLLOWERS: dict[AnyKey, Follow] = {}


def when_unanswered(*keys: AnyKey) -> Callable[[Follow], Follow]:
    """Mark a function `async (db: Transaction, who, at) -> None`: a press of these actions looked as if it had failed.

    It gets the account that pressed, and the time of the press.
    """

    def keep(follow: Follow) -> Follow:
        FOLLOWERS.update(dict.fromkeys(keys, follow))
        return follow

    return keep


async def unanswered(store: Store, action: AnyKey, who: int, at: datetime) -> None:
    """The answer to a press came too late, or got lost."""
    follow = FOLLOWERS.get(action)
    if follow is not None:
        await store.transact(lambda db: follow(db, who, at))
