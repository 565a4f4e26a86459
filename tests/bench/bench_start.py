"""From exec to connected, and the memory of a bot that waits: the bot and a bare client, turn by turn."""

import asyncio
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from deploy.rehearsal.server.class_server import ClassServer
from tests.bench.report import Line, at_most, not_measured, spread
from tests.bench.school import class_server, open_signup
from tests.bench.timed_programs import BARE, BOT, ROOT, running

REST_S = 12.0
"""By then a backup has been made, the boards have been posted, and what that took is given back."""
_LIBRARIES = """
import discord, pydantic, aiosqlite, apscheduler.schedulers.asyncio
from pathlib import Path
class One(pydantic.BaseModel): number: int
print(next(line for line in Path("/proc/self/status").read_text().splitlines() if line.startswith("VmRSS:")).split()[1])
"""
"""What the bot is built on, imported by a program that does nothing else, and the KiB it then holds."""


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
        at_most("start to connected", beside, ratio, 1.4, "at most 1.4x"),
        at_most("start with a new database", f"{spread(first)}, {ratio_first:.2f}x", ratio_first, 2.0, "at most 2x"),
    ]
    if bot_rss is None or bare_rss is None:
        return [*found, not_measured("memory at rest", "this system does not tell it")]
    times, libraries = bot_rss / bare_rss, _libraries_mib()
    memory = f"{bot_rss:.1f} MiB, {times:.2f}x a bare client's {bare_rss:.1f} MiB"
    return [
        *found,
        at_most("memory at rest", memory, times, 1.6, "at most 1.6x"),
        Line("  of it the libraries alone", f"{libraries:.1f} MiB, {libraries / bare_rss:.2f}x"),
    ]


def _libraries_mib() -> float:
    shown = subprocess.run([sys.executable, "-c", _LIBRARIES], cwd=ROOT, capture_output=True, text=True, check=True)
    return int(shown.stdout) / 1024


async def _start(server: ClassServer, program: tuple[str, ...], folder: Path) -> float:
    async with running(server, program, folder) as started:
        return started.start_s


async def _rest(server: ClassServer, program: tuple[str, ...], folder: Path) -> float | None:
    async with running(server, program, folder) as started:
        await asyncio.sleep(REST_S)
        return started.rss_mib()
