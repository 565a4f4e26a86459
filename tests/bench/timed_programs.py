"""Programs under the stopwatch: the bot as its users start it, and a bare client of the same chat library beside it."""

import asyncio
import os
import sys
import time
from asyncio.subprocess import DEVNULL, STDOUT, Process
from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager
from pathlib import Path
from tempfile import gettempdir

from deploy.rehearsal.server.class_server import ClassServer

ROOT = Path(__file__).resolve().parents[2]
BOT = ("-m", "bot", "run")
BARE = ("-m", "tests.bench.bare_client")
COMPILED = Path(gettempdir()) / "tenbell-bench-bytecode"
"""Where the programs keep their compiled modules, beside the checkout and not in it."""
READY_S = 30.0
STOP_S = 10.0


class DidNotStart(Exception):
    """A program was not on line in time; the text is the end of its log."""


class Running:
    """A program that is on line."""

    def __init__(self, process: Process, start_s: float) -> None:
        self._process = process
        self.start_s = start_s
        """Seconds from exec until the class server had taken its IDENTIFY and sent READY."""

    @property
    def pid(self) -> int:
        """The process id."""
        return self._process.pid

    def rss_mib(self) -> float | None:
        """The memory the process holds now, in MiB; None where the system does not tell."""
        return rss_mib(self.pid)


def rss_mib(pid: int) -> float | None:
    """The memory that a process holds now, in MiB; None where the system does not tell, or it has ended."""
    try:
        status = Path(f"/proc/{pid}/status").read_text("utf-8")
    except OSError:
        return None
    found = [line for line in status.splitlines() if line.startswith("VmRSS:")]
    return int(found[0].split()[1]) / 1024 if found else None


def bots_of(pid: int) -> list[int]:
    """The bots that a process has started and that run now; none where the system does not tell."""
    try:
        children = Path(f"/proc/{pid}/task/{pid}/children").read_text("utf-8").split()
        return [int(child) for child in children if _arguments(child)[1:4] == list(BOT)]
    except OSError:
        return []


def _arguments(pid: str) -> list[str]:
    return Path(f"/proc/{pid}/cmdline").read_text("utf-8").split("\0")


@asynccontextmanager
async def running(server: ClassServer, program: tuple[str, ...], folder: Path) -> AsyncIterator[Running]:
    """A program on line at a class server, on the database in a folder; ended politely afterwards.

    It goes by the machine's own clock, as it does for a real class.

    Raises:
        DidNotStart: it was not on line within 30 seconds.
    """
    log = folder / "program.log"
    with log.open("ab") as output:
        server.gateway.identified.clear()
        began = time.perf_counter()
        process = await asyncio.create_subprocess_exec(
            sys.executable, *program, cwd=ROOT, env=_surroundings(server, folder), stdin=DEVNULL, stdout=output,
            stderr=STDOUT,
        )  # fmt: skip
    try:
        await _on_line(server, process, log)
        yield Running(process, time.perf_counter() - began)
    finally:
        await _end(process)


def _surroundings(server: ClassServer, folder: Path) -> Mapping[str, str]:
    # As on a machine where it has run before: compiled once, whatever the surroundings of the bench say.
    left_out = ("TENBELL_", "PYTHONDONTWRITEBYTECODE", "PYTHONPYCACHEPREFIX")
    inherited = {key: value for key, value in os.environ.items() if not key.startswith(left_out)}
    own = {
        "PYTHONPYCACHEPREFIX": str(COMPILED),
        "TENBELL_TOKEN": server.token,
        "TENBELL_API": server.api,
        "TENBELL_DATABASE": str(folder / "tenbell.db"),
        "BARE_GATEWAY": f"ws://127.0.0.1:{server.port}/gateway",
    }
    return inherited | own


async def _on_line(server: ClassServer, process: Process, log: Path) -> None:
    waiting = [asyncio.ensure_future(server.gateway.identified.wait()), asyncio.ensure_future(process.wait())]
    done, rest = await asyncio.wait(waiting, timeout=READY_S, return_when=asyncio.FIRST_COMPLETED)
    for task in rest:
        task.cancel()
    if waiting[0] not in done:
        raise DidNotStart(_end_of(log))


def _end_of(log: Path) -> str:
    return "\n".join(log.read_text("utf-8", errors="replace").splitlines()[-20:])


async def _end(process: Process) -> None:
    if process.returncode is None:
        process.terminate()
    try:
        async with asyncio.timeout(STOP_S):
            await process.wait()
    except TimeoutError:
        process.kill()
        await process.wait()
