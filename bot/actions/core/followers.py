"""What other subjects do when something has changed: they register, so that who changes it need not know them."""

from collections.abc import Awaitable, Callable
from datetime import datetime
from typing import Generic, TypeVar

from storage.records.tryout import Tryout
from storage.tables.sql_session import Transaction

What = TypeVar("What")


class Followers(Generic[What]):
    """A decorator for functions `async (db: Transaction, tryout, what) -> None` that follow each change of one kind."""

    def __init__(self) -> None:
        """Nobody follows before modules are imported."""
        self._all: list[Callable[[Transaction, Tryout, What], Awaitable[None]]] = []

    def __call__(
        self, follow: Callable[[Transaction, Tryout, What], Awaitable[None]]
    ) -> Callable[[Transaction, Tryout, What], Awaitable[None]]:
        """Let `follow` be called at each change, in the transaction that makes it."""
        self._all.append(follow)
        return follow

    async def tell(self, db: Transaction, tryout: Tryout, what: What) -> None:
        """It has changed; `what` says which squads, or when."""
        for follow in self._all:
            await follow(db, tryout, what)


when_judges_change = Followers[datetime]()
"""Somebody judges from now on, or no more, or sees other squads than before."""
when_table_changes = Followers[datetime]()
"""An attempt on record at the scorekeeper's table has changed, or whether a squad takes part."""
