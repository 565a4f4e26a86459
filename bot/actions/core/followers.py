"""What other subjects do when something has changed: they register, so that who changes it need not know them."""

from collections.abc import Awaitable, Callable
from datetime import datetime
from typing import Generic, TypeVar

from bot.actions.core.subject_loading import Change, learn_followers
from storage.records.tryout import Tryout
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
