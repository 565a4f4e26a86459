"""The real program, started as its users start it."""

import asyncio
import os
import signal
import sys
from asyncio.subprocess import DEVNULL, PIPE, Process
from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager
from dataclasses import dataclass
from pathlib import Path

from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.machine_time import MachineTime

ROOT = Path(__file__).resolve().parents[2]
PATIENCE_S = 120.0
TOKEN = "not-a-real-token"


@dataclass(frozen=True)
class Ended:
    """A program that has come to its end."""

    code: int
    said: str
    complained: str
    seconds: float
    """How long it took, from the start or from the signal, less what a busy machine kept it waiting."""

    def sentence(self) -> str:
        """The one line it complained with, after making sure that it is one, with exit code 2."""
        assert self.code == 2, self
        assert self.said == "", self
        lines = self.complained.splitlines()
        assert len(lines) == 1, self.complained
        assert "Traceback" not in lines[0]
        return lines[0]

    def log_lines(self) -> list[str]:
        """What the log says, without the times, after making sure that it ended well and no line is of a traceback."""
        assert self.code == 0, self.complained
        assert "Traceback" not in self.complained and '  File "' not in self.complained, self.complained
        return [line.split(" ", 2)[2] for line in self.complained.splitlines()]


async def tenbell(*arguments: str, folder: Path, **environment: str) -> Ended:
    """Run one command in a folder to its end; only the given settings are set."""
    return await _ended(await _begin(arguments, folder, environment))


@asynccontextmanager
async def running(folder: Path, server: ClassServer | None = None, /, **environment: str) -> AsyncIterator[Process]:
    """`tenbell run` in a folder, killed at the end if it is still there.

    A class server that it runs at does not blame it for what a busy machine keeps it waiting.
    """
    if server is not None:
        environment = {"TENBELL_TOKEN": server.token, "TENBELL_API": server.api, **environment}
    process = await _begin(("run",), folder, environment)
    if server is not None:
        server.machine.watch(process.pid)
    try:
        yield process
    finally:
        if process.returncode is None:
            process.kill()
            await process.wait()
        if server is not None:
            server.machine.forget(process.pid)


async def end_with(process: Process, number: signal.Signals) -> Ended:
    """Send a signal and wait for the end."""
    return await _ended(process, number)


async def _begin(arguments: tuple[str, ...], folder: Path, environment: Mapping[str, str]) -> Process:
    inherited = {key: value for key, value in os.environ.items() if not key.startswith("TENBELL_")}
    surroundings = {**inherited, "PYTHONPATH": str(ROOT), **environment}
    return await asyncio.create_subprocess_exec(
        sys.executable, "-m", "bot", *arguments, cwd=folder, stdin=DEVNULL, stdout=PIPE, stderr=PIPE,
        env=surroundings,
    )  # fmt: skip


async def _ended(process: Process, number: signal.Signals | None = None) -> Ended:
    """Wait for the end, which the signal brings about if there is one."""
    machine = MachineTime()
    machine.watch(process.pid)
    began = machine.now()
    if number is not None:
        process.send_signal(number)
    end = asyncio.ensure_future(process.communicate())
    while not end.done():
        await asyncio.wait({end}, timeout=0.05)
        assert machine.now() - began < PATIENCE_S, "it does not end"
    said, complained = end.result()
    assert process.returncode is not None
    return Ended(process.returncode, said.decode(), complained.decode(), machine.now() - began)
