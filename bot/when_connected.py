"""What runs from the moment the platform is reached: presses are answered, the outbox delivered, copies made at night.

Most of the program comes with this module, so that it is imported once we are on line.
"""

import asyncio
import logging
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

from bot.actions.core.live_messages import look_again
from bot.actions.core.registry import begin
from bot.actions.delivery import backup_notice
from bot.actions.privacy.purge import drop_old_answers
from bot.clock import MainClock, Nightly
from bot.connection.chat_client import ChatClient
from bot.delivery.delivery_loop import DeliveryLoop
from bot.interactions.graceful_shutdown import InFlight
from bot.online_status import OnlineStatus
from bot.rules.delivery.backoff import backoff_delay
from storage.backup import BACKUP_AT, last_backup, make_nightly_backup
from storage.faults import StorageFault
from storage.store import Store

__all__ = ["begin", "work"]

log = logging.getLogger(__name__)


async def work(client: ChatClient, store: Store, clock: MainClock, signs: OnlineStatus, database: Path) -> None:
    """Answer and deliver until cancelled."""
    # Before anything is caught up, so that it is still known what is late.
    await signs.tell_missed(store)
    in_flight = client.in_flight
    in_flight.open()
    await client.tell_commands()
    async with DeliveryLoop(client, store, clock, answers_first=in_flight.answers_first) as delivery:
        store.on_commit(delivery.wake)
        signs.next_due = delivery.next_wake
        back_up = _back_up_nightly(store, clock, signs, database)
        signs.last_backup_at = _last_backup(database)
        if signs.last_backup_at is None or clock.now() - signs.last_backup_at > timedelta(days=1):
            # The program does not run at night, or is new.
            await back_up()
        clock.settle_with(lambda: _quiet(in_flight, delivery))
        await _look_again(store)
        await clock.lost()


async def _look_again(store: Store) -> None:
    """Have shown anew what the last answers before the start may not have shown, as soon as the disk lets us."""
    failures = 0
    while True:
        try:
            return await look_again(store)
        except StorageFault:
            failures += 1
            await asyncio.sleep(backoff_delay(failures).total_seconds())


def _back_up_nightly(store: Store, clock: MainClock, signs: OnlineStatus, database: Path) -> Nightly:
    """Back up every night; returns what does it."""

    async def back_up() -> None:
        now = clock.now()
        try:
            # First: what is forgotten shall not be in the copy.
            await drop_old_answers(store, now)
            # In a thread: copying and checking take longer than anyone may be kept waiting.
            made = await asyncio.to_thread(make_nightly_backup, database, now)
            signs.last_backup_at = now
            await backup_notice.worked(store)
            log.info("backup %s", made.name)
        except StorageFault as error:
            log.error("no backup: %s", error)
            with suppress(StorageFault):
                await backup_notice.failed(store, str(error), now)

    clock.every_night(BACKUP_AT, back_up, clock.own_zone())
    return back_up


def _last_backup(database: Path) -> datetime | None:
    try:
        return last_backup(database)
    except StorageFault:
        return None


async def _quiet(in_flight: InFlight, delivery: DeliveryLoop) -> None:
    """Wait until nobody waits for an answer and everything that can be delivered now has been."""
    while True:
        await in_flight.answered()
        await delivery.quiet()
        if not in_flight.count:
            return
