"""The nightly backup: at which hour it is made, when one is made at the start, and who hears that none could be."""

import asyncio
import logging
from contextlib import suppress
from datetime import datetime, time, timedelta
from pathlib import Path

from bot.actions.delivery import gap_and_backup_notices
from bot.actions.privacy.purge_tryout import drop_processed_interactions
from bot.clock import MainClock
from bot.online_status import OnlineStatus
from storage.backup import last_backup, make_nightly_backup
from storage.file_errors import StorageFault
from storage.store import Store

log = logging.getLogger(__name__)

BACKUP_AT = time(3, 30)
"""In the zone of the machine; a backup hinders nobody, so that a wrong zone does no harm."""
OLDEST = timedelta(days=1)
"""Where the newest backup is older at the start, one is made at once."""


async def back_up_nightly(store: Store, clock: MainClock, signs: OnlineStatus, database: Path) -> None:
    """Back up every night from now on, and at once where the newest backup is older than `OLDEST`."""

    async def back_up() -> None:
        now = clock.now()
        try:
            # First: what is forgotten shall not be in the copy.
            await drop_processed_interactions(store, now)
            # In a thread: copying and checking take longer than anyone may be kept waiting.
            made = await asyncio.to_thread(make_nightly_backup, database, now)
            signs.last_backup_at = now
            await gap_and_backup_notices.backup_worked(store)
            log.info("backup %s", made.name)
        except StorageFault as error:
            log.error("no backup: %s", error)
            with suppress(StorageFault):
                await gap_and_backup_notices.backup_failed(store, str(error), now)

    clock.every_night(BACKUP_AT, back_up, clock.own_zone())
    signs.last_backup_at = _last_backup(database)
    if signs.last_backup_at is None or clock.now() - signs.last_backup_at > OLDEST:
        # The program does not run at night, or is new.
        await back_up()


def _last_backup(database: Path) -> datetime | None:
    try:
        return last_backup(database)
    except StorageFault:
        return None
