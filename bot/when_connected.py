"""What runs from the moment the platform is reached: presses are answered, the outbox delivered, copies made at night.

Most of the program comes with this module, so that it is imported once we are on line.
"""

import asyncio
from pathlib import Path

from bot.actions.core.live_messages import look_again
from bot.actions.core.registry import begin
from bot.clock import MainClock
from bot.connection.chat_client import ChatClient
from bot.delivery.delivery_loop import DeliveryLoop
from bot.interactions.answers_first import InFlight
from bot.nightly_backup import back_up_nightly
from bot.online_status import OnlineStatus
from bot.rules.delivery.backoff import backoff_delay
from storage.file_errors import StorageFault
from storage.store import Store

__all__ = ["begin", "work"]


async def work(client: ChatClient, store: Store, clock: MainClock, signs: OnlineStatus, database: Path) -> None:
    """Answer and deliver until cancelled."""
    # Before anything is caught up, so that it is still known what is late.
    await signs.tell_missed(store)
    in_flight = client.in_flight
    in_flight.open()
    await client.tell_commands()
    waiting = in_flight.answers_out, in_flight.answers_first
    async with DeliveryLoop(client, store, clock, waiting=waiting) as delivery:
        store.on_commit(delivery.wake)
        signs.next_due = delivery.next_wake
        await back_up_nightly(store, clock, signs, database)
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


async def _quiet(in_flight: InFlight, delivery: DeliveryLoop) -> None:
    """Wait until nobody waits for an answer and everything that can be delivered now has been."""
    while True:
        await in_flight.answered()
        await delivery.quiet()
        if not in_flight.count:
            return
