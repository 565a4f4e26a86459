"""The job runner: rings for what is due, and knows when it must ring next."""

from datetime import datetime

from bot.actions.core import scheduled_jobs
from storage.store import Store
from storage.tables import rooms
from storage.tables import scheduled_jobs as table


class JobRunner:
    """Sees to what happens at an instant; everything it knows stands in the database."""

    def __init__(self, store: Store) -> None:
        self._store = store

    async def ring(self, now: datetime) -> datetime | None:
        """Have everything handled that is due by now; returns when to ring next."""
        await scheduled_jobs.ring(self._store, now)
        async with self._store.read() as snapshot:
            upcoming = await table.next_job_at(snapshot)
            differ = await rooms.seats_differ(snapshot)
        if differ:
            async with self._store.write() as db:
                await rooms.adjust_seats(db)
        return upcoming
