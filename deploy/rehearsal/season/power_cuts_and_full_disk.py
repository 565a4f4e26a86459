"""What befalls the bot's own machine while a season is played: power cuts and a full disk."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager, suppress
from functools import partial
from itertools import cycle
from pathlib import Path
from random import Random

from deploy.rehearsal.season.bot_process import BotDied, BotProcess
from deploy.rehearsal.season.troubles import DISK, KILL
from deploy.rehearsal.server.machine_time import MachineTime

KILL_AFTER = (30, 150)
"""So many requests of the bot lie between two power cuts: they strike while it works, however fast the machine is."""
KILL_LATER_S = 0.1
"""At most so long after the last of them, so that they strike between requests, too."""
LOOK_EVERY_S = 0.01
FULL_EVERY_S = (2.0, 6.0)
FULL_FOR_S = 0.4
RESTART_S = 0.5


@asynccontextmanager
async def inject_faults(
    bot: BotProcess,
    machine: MachineTime,
    requests: Callable[[], int],
    database: Path,
    kinds: frozenset[str],
    seed: int,
    after_kill: Callable[[Path], None],
) -> AsyncIterator[None]:
    """Let the chosen faults befall the bot until the season is over; it then runs and has its disk back.

    Power cuts come by the number of its `requests`, a full disk by `machine`, so that a bot that is slow because of
    others is not stopped before it has begun.

    `after_kill` looks at the database between a power cut and the restart.
    """
    tasks = []
    if KILL in kinds:
        tasks.append(asyncio.create_task(_kill(bot, requests, Random(f"{seed}|kill"), partial(after_kill, database))))
    if DISK in kinds:
        tasks.append(asyncio.create_task(_fill_disk(bot, machine, database, Random(f"{seed}|disk"))))
    try:
        yield
    finally:
        for task in tasks:
            task.cancel()
        for task in tasks:
            with suppress(asyncio.CancelledError):
                await task
        if not bot.running:
            await _start_again(bot)


async def _kill(bot: BotProcess, requests: Callable[[], int], random: Random, look: Callable[[], None]) -> None:
    while True:
        until = requests() + random.randint(*KILL_AFTER)
        while requests() < until:  # noqa: ASYNC110 - the class server only counts
            await asyncio.sleep(LOOK_EVERY_S)
        await asyncio.sleep(random.uniform(0, KILL_LATER_S))
        # A restart that was begun is finished, so that the season never ends without a bot.
        await asyncio.shield(asyncio.ensure_future(_cut_power(bot, look)))


async def _cut_power(bot: BotProcess, look: Callable[[], None]) -> None:
    await bot.kill()
    look()
    await _start_again(bot)


async def _start_again(bot: BotProcess) -> None:
    """Start the bot as a service manager does: again, if it could not because its disk was full just then."""
    for last in (False, False, False, False, True):
        try:
            await bot.start()
            return
        except BotDied:
            if last:
                raise
            await asyncio.sleep(RESTART_S)


async def _fill_disk(bot: BotProcess, machine: MachineTime, database: Path, random: Random) -> None:
    """Forbid the bot to let its files grow, or to write at all, for a moment and in turns, where the system can."""
    for full in cycle((True, False)):
        await machine.sleep(random.uniform(*FULL_EVERY_S))
        try:
            bot.limit_files(largest_file(database) if full else 0)
            await machine.sleep(FULL_FOR_S)
        finally:
            bot.limit_files(None)


def largest_file(database: Path) -> int:
    """How large the largest of the database's files is now: none may grow beyond."""
    sizes = [file.stat().st_size for file in database.parent.glob(f"{database.name}*") if file.is_file()]
    return max(sizes, default=0)
