"""The bot as its own process: started, watched, ended politely or not, and started again."""

from __future__ import annotations

import asyncio
import subprocess
import time
from contextlib import suppress
from pathlib import Path

from deploy.rehearsal.season.early_bot import THE_BOT, EarlyBot, begin_process, bot_environment
from deploy.rehearsal.server.class_server import ClassServer

try:
    import resource
except ImportError:  # not on Windows
    resource = None  # type: ignore[assignment]

READY_S = 30.0
STOP_S = 10.0
POLL_S = 0.01


class BotDied(Exception):
    """The bot process ended although nobody asked it to."""


class BotProcess:
    """Runs `python -m bot run` against a class server, with its log in a file."""

    def __init__(
        self,
        server: ClassServer,
        database: Path,
        log: Path,
        *,
        arguments: tuple[str, ...] = THE_BOT,
        early: EarlyBot | None = None,
    ) -> None:
        """Prepare to run the bot with its database at `database`; `arguments` follow the name of the interpreter.

        `early` is taken for the first start, where the bot was begun before.
        """
        self._server = server
        self._arguments = arguments
        self._has_commands = arguments == THE_BOT
        self._log = log
        self._early = early
        self._process: subprocess.Popen[bytes] | None = None
        self.environment = bot_environment(server.token, server.api, server.clock_address, database)
        self.starts = 0
        self.kills = 0
        self.start_s: list[float] = []
        self.stop_s: list[float] = []

    @property
    def running(self) -> bool:
        """Whether the process is alive."""
        return self._process is not None and self._process.poll() is None

    @property
    def exit_code(self) -> int | None:
        """The exit code of the last process that ended."""
        return self._process.poll() if self._process else None

    @property
    def restarts(self) -> int:
        """How often the bot was started again after its first start."""
        return max(0, self.starts - 1)

    async def start(self, *, wait: bool = True) -> None:
        """Start the bot and wait until it is ready; raises `BotDied` with the end of its log."""
        began = time.monotonic()
        self._server.gateway.identified.clear()
        if self._early is None:
            self._process = begin_process(self._arguments, self.environment, self._log)
        else:
            began, self._process, self._early = self._early.began, self._early.process, None
        self.starts += 1
        self._server.machine.watch(self._process.pid)
        if wait:
            await self.ready()
            self.start_s.append(time.monotonic() - began)

    async def ready(self, seconds: float = READY_S) -> None:
        """Wait until the bot listens to gateway and clock, and what people can type is known."""
        machine = self._server.machine
        until = machine.now() + seconds
        while not self._ready():
            if not self.running:
                raise BotDied(f"the bot ended with code {self.exit_code}:\n{self.log_end()}")
            if machine.now() > until:
                raise BotDied(f"the bot was not ready after {seconds:g} s:\n{self.log_end()}")
            await asyncio.sleep(POLL_S)

    def _ready(self) -> bool:
        listens = self._server.gateway.identified.is_set() and self._server.clock.connected
        return listens and (bool(self._server.world.commands) or not self._has_commands)

    async def stop(self) -> int:
        """End the bot politely (SIGTERM) and return its exit code; raises `BotDied` if it does not end in time."""
        if self._process is None:
            raise BotDied("the bot was never started")
        began = time.monotonic()
        if self.running:
            self._process.terminate()
        ended = await self._server.machine.within(STOP_S, asyncio.to_thread(self._process.wait))
        if not ended:
            self._process.kill()
        code = await asyncio.to_thread(self._process.wait)
        self._server.machine.forget(self._process.pid)
        if not ended:
            raise BotDied(f"the bot did not end within {STOP_S:g} s:\n{self.log_end()}")
        self.stop_s.append(time.monotonic() - began)
        return code

    async def kill(self) -> None:
        """End the bot at once (SIGKILL), as a power cut does."""
        if self._process is None or not self.running:
            return
        self._process.kill()
        await asyncio.to_thread(self._process.wait)
        self._server.machine.forget(self._process.pid)
        self.kills += 1
        await self._gone()

    def limit_files(self, size: int | None) -> None:
        """Let no file of the bot grow beyond `size` bytes, as on a full disk, where the system can; None lifts it."""
        prlimit = getattr(resource, "prlimit", None)
        if prlimit is None or self._process is None or not self.running:
            return
        unlimited = resource.RLIM_INFINITY
        with suppress(ProcessLookupError):
            prlimit(self._process.pid, resource.RLIMIT_FSIZE, (unlimited if size is None else size, unlimited))

    def rss_mib(self) -> float | None:
        """Return the memory the process holds now, in MiB; nothing where the system does not tell."""
        if self._process is None or not self.running:
            return None
        status = Path(f"/proc/{self._process.pid}/status")
        if not status.exists():
            return None
        line = next(line for line in status.read_text().splitlines() if line.startswith("VmRSS:"))
        return int(line.split()[1]) / 1024

    def log_end(self, lines: int = 20) -> str:
        """Return the last lines of the log."""
        if not self._log.exists():
            return "(no log)"
        return "\n".join(self._log.read_text(encoding="utf-8", errors="replace").splitlines()[-lines:])

    async def _gone(self) -> None:
        """Wait until the server has noticed that the sockets are dead, and forget what nobody can take up again."""
        for _ in range(200):
            if not any(session.line for session in self._server.gateway.sessions.values()):
                break
            await asyncio.sleep(POLL_S)
        self._server.gateway.forget_lost()
        # What it still sent has arrived by then.
        await asyncio.sleep(POLL_S)
        self._server.interactions.abandon()
