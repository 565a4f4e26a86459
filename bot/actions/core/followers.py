"""What other subjects do when something has changed, or an answer did not arrive.

They register, so that who changes or answers it need not know them.
"""

from collections.abc import Awaitable, Callable, Coroutine
from datetime import datetime
from typing import Any, Generic, TypeVar

from bot.actions.core.subject_loading import Change, learn_followers
from bot.words.core.action_keys import AnyKey
from storage.records.tryout import Tryout
from storage.store import Store
from storage.tables.sql_session import Transaction

What = TypeVar("What")


class Followers(Generic[What]):
    """A decorator for functions `async (db: Transaction, tryout, what) -> None` that follow each change of one kind."""

    def __init__(self, change: Change) -> None:
        """Those that have not been imported yet are when it first changes."""
        self._change = change
        self.all: list[Callable[[Transaction, Tryout, What], Awaitable[None]]] = []

    def __call__(
        self, follow: Callable[[Transaction, Tryout, What], Awaitable[None]]
    ) -> Callable[[Transaction, Tryout, What], Awaitable[None]]:
        """Let `follow` be called at each change, in the transaction that makes it."""
        self.all.append(follow)
        return follow

    async def tell(self, db: Transaction, tryout: Tryout, what: What) -> None:
        """It has changed; `what` says which squads, or when."""
        learn_followers(self._change)
        for follow in self.all:
            await follow(db, tryout, what)


when_judges_change = Followers[datetime]("judges")
"""Somebody judges from now on, or no more, or sees other squads than before."""
when_table_changes = Followers[datetime]("table")
"""An attempt on record at the scorekeeper's table has changed, or whether a squad takes part."""


Unanswered = Callable[[Transaction, int, datetime], Coroutine[Any, Any, None]]
_UNANSWERED: dict[AnyKey, Unanswered] = {}


def when_unanswered(*keys: AnyKey) -> Callable[[Unanswered], Unanswered]:
    """Mark a function `async (db: Transaction, who, at) -> None`: a press of these actions looked as if it had failed.

    It gets the account that pressed, and the time of the press.
    """

    def keep(follow: Unanswered) -> Unanswered:
        _UNANSWERED.update(dict.fromkeys(keys, follow))
        return follow

    return keep


async def unanswered(store: Store, action: AnyKey, who: int, at: datetime) -> None:
    """The answer to a press did not reach the phone, although what was asked for has been done."""
    follow = _UNANSWERED.get(action)
    if follow is not None:
        await store.transact(lambda db: follow(db, who, at))
