"""The job runner: rings for what is due, and knows when it must ring next."""

from datetime import datetime

from bot.actions.core import scheduled_jobs
from storage.store import Store
from storage.tables import squad_room_members


class JobRunner:
    """Sees to what happens at an instant; everything it knows stands in the database."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._begun = False

    def must_ring(self, due: datetime | None, now: datetime) -> bool:
        """Whether there is something to be handled now; `due` is when something is due next."""
        return not self._begun or (due is not None and due <= now)

    async def ring(self, now: datetime) -> datetime | None:
        """Have everything handled that is due by now; returns when to ring next."""
        if not self._begun:
            await self._store.transact(squad_room_members.adjust_seats)
            self._begun = True
        return await scheduled_jobs.ring(self._store, now)
