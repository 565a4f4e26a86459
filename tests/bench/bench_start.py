"""From exec to connected, and the memory of a bot that waits: the bot and a bare client, turn by turn."""

import asyncio
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from deploy.rehearsal.server.class_server import ClassServer
from tests.bench.programs import BARE, BOT, running
from tests.bench.report import Line, at_most, not_measured, spread
from tests.bench.school import class_server, open_signup

REST_S = 3.0


def lines(quick: bool = False) -> Iterator[Line]:
    """Start-up and memory at rest."""
    yield from asyncio.run(_measure(runs=3 if quick else 9))


async def _measure(runs: int) -> list[Line]:
    again, first, bare = [], [], []
    with TemporaryDirectory() as folder:
        home = Path(folder)
        async with class_server() as server:
            await open_signup(server, home / "tenbell.db")
            await _start(server, BOT, home)
            await _start(server, BARE, home)
            for run in range(runs):
                new = home / f"new-{run}"
                new.mkdir()
                again.append(await _start(server, BOT, home))
                bare.append(await _start(server, BARE, home))
                first.append(await _start(server, BOT, new))
            bot_rss, bare_rss = await _rest(server, BOT, home), await _rest(server, BARE, home)
    ratio, ratio_first = median(again) / median(bare), median(first) / median(bare)
    beside = f"{spread(again)}, {ratio:.2f}x a bare client's {spread(bare)}"
    found = [
        at_most("start to connected", beside, ratio, 2.0, "at most 2x"),
        at_most("start with a new database", f"{spread(first)}, {ratio_first:.2f}x", ratio_first, 2.0, "at most 2x"),
    ]
    if bot_rss is None or bare_rss is None:
        return [*found, not_measured("memory at rest", "this system does not tell it")]
    memory = f"{bot_rss:.1f} MiB, a bare client {bare_rss:.1f} MiB"
    return [*found, at_most("memory at rest", memory, bot_rss, 90, "at most 90 MiB")]


async def _start(server: ClassServer, program: tuple[str, ...], folder: Path) -> float:
    async with running(server, program, folder) as started:
        return started.start_s


async def _rest(server: ClassServer, program: tuple[str, ...], folder: Path) -> float | None:
    async with running(server, program, folder) as started:
        await asyncio.sleep(REST_S)
        return started.rss_mib()
