"""What befalls the bot at moments of our choosing: a platform that fails on some messages, files that were changed."""

import asyncio
import re
import sqlite3
from collections.abc import Awaitable, Callable
from contextlib import closing
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.platform_faults import Fault
from deploy.rehearsal.server.rate_limits import WIRE_VIA
from deploy.rehearsal.wire.request_bodies import Body
from tests.faults.season_invariants import Noticed

POST = "POST /channels/{channel_id}/messages"
YEARS = {"message": "You are being rate limited.", "retry_after": 1e9, "global": False, "code": 0}


@dataclass
class Trouble:
    """What befalls the next message with some words in it."""

    words: str
    how: str
    """`503`, `years` (a rate limit of 30 years), `unheard` (posted, and the line breaks), `killed` (posted, and the
    power goes)."""
    until: datetime | None = None
    """It goes on until then; None: once."""
    met: int = 0


@dataclass
class Platform:
    """Listens to every message that the bot posts, and makes some of them hard to post."""

    server: ClassServer
    power_cut: Callable[[], Awaitable[None]]
    troubles: list[Trouble] = field(default_factory=list)
    nonces: dict[str, str] = field(default_factory=dict)
    wrong: list[str] = field(default_factory=list)

    def listen(self) -> None:
        """Begin."""
        self.server.rest.hooks.before = self._before
        self.server.rest.hooks.after = self._after

    def check(self) -> None:
        """Raises `Noticed` for a message that was posted without a nonce of its own."""
        if self.wrong:
            raise Noticed(self.wrong[0])

    async def _before(self, route: str, body: Body) -> Fault | None:
        if route != POST:
            return None
        text, nonce = str(body.json.get("content", "")), body.json.get("nonce")
        if nonce is None or not body.json.get("enforce_nonce"):
            self.wrong.append(f"a message was posted without a nonce: {text[:60]!r}")
        elif self.nonces.setdefault(str(nonce), text) != text:
            self.wrong.append(f"two messages have one nonce: {text[:60]!r}")
        trouble = self._meets(text, ("503", "years"))
        if trouble is None:
            return None
        if trouble.how == "503":
            return Fault(503, {"message": "503: Service Unavailable", "code": 0})
        headers = {"Via": WIRE_VIA, "Retry-After": "1000000000", "X-RateLimit-Scope": "user"}
        return Fault(429, YEARS, headers)

    async def _after(self, route: str, body: Body) -> Fault | None:
        if route != POST:
            return None
        trouble = self._meets(str(body.json.get("content", "")), ("unheard", "killed"))
        if trouble is None:
            return None
        if trouble.how == "killed":
            try:
                await self.power_cut()
            except Noticed as noticed:
                self.wrong.append(str(noticed))
        return Fault(reset_after=True, reset_before=True)

    def _meets(self, text: str, ways: tuple[str, ...]) -> Trouble | None:
        for trouble in self.troubles:
            if trouble.how in ways and re.search(trouble.words, text):
                over = trouble.met if trouble.until is None else self.server.clock.now >= trouble.until
                if not over:
                    trouble.met += 1
                    return trouble
        return None


def next_versions(database: Path) -> tuple[str, str]:
    """Two migrations as a next version might bring them: one that forgets what hangs on a row, one that rebuilds."""
    with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as connection:
        made = dict(connection.execute("SELECT name, sql FROM sqlite_master WHERE tbl_name = 'squad' AND sql NOT NULL"))
    table = made.pop("squad")
    rebuilt = [
        re.sub(r'^CREATE TABLE\s+"?squad"?', "CREATE TABLE squad_new", table),
        "INSERT INTO squad_new SELECT * FROM squad",
        "DROP TABLE squad",
        "ALTER TABLE squad_new RENAME TO squad",
        *made.values(),
    ]
    return "DELETE FROM squad WHERE id = 1;\n", "".join(f"{statement};\n" for statement in rebuilt)


def as_of_two_servers(database: Path, account: int) -> None:
    """Let somebody judge in a try-out of another class server, too, that is kept in the same file."""
    with closing(sqlite3.connect(database)) as connection, connection:
        connection.row_factory = sqlite3.Row
        tryout = dict(connection.execute("SELECT * FROM tryout").fetchone())
        judge = dict(connection.execute("SELECT * FROM judge WHERE platform_id = ?", (account,)).fetchone())
        tryout |= {"id": 77, "server_id": tryout["server_id"] + 1, "rooms_json": "{}"}
        judge |= {"id": 777, "tryout_id": 77, "direct_id": None, "room_id": None}
        for table, row in (("tryout", tryout), ("judge", judge)):
            insert(connection, table, row)


def without_the_other_server(database: Path) -> None:
    """The other try-out is gone again."""
    with closing(sqlite3.connect(database)) as connection, connection:
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("DELETE FROM tryout WHERE id = 77")


def as_a_helper_before(database: Path, account: int) -> None:
    """Let a file of before say that somebody in a squad keeps score, which a version of today does not allow."""
    with closing(sqlite3.connect(database)) as connection, connection:
        row = {"tryout_id": 1, "platform_id": account, "name": "Helper", "role": "scorekeeper"}
        insert(connection, "officer", row)


def damage(database: Path, words: str) -> str:
    """Let a damaged disk have some words where the moment stands at which squads were founded; what stood there."""
    with closing(sqlite3.connect(database)) as connection, connection:
        (before,) = connection.execute("SELECT created_at FROM squad").fetchone()
        connection.execute("UPDATE squad SET created_at = ?", (words,))
    return str(before)


def insert(connection: sqlite3.Connection, table: str, row: dict[str, Any]) -> None:
    """Insert a row."""
    names = ", ".join(row)
    places = ", ".join("?" * len(row))
    connection.execute(f"INSERT INTO {table} ({names}) VALUES ({places})", tuple(row.values()))


HOLD = """
import fcntl, sys, time
with open(sys.argv[1], "r+b") as file:
    fcntl.lockf(file, fcntl.LOCK_EX, 5, 123)
    print("held", flush=True)
    time.sleep(float(sys.argv[2]))
"""
"""Holds what SQLite locks to read (bytes 123 to 127 of the -shm file, as its page on the WAL index says)."""


async def hold(database: Path, seconds: float, python: str) -> asyncio.subprocess.Process:
    """Let another program hold the database's file for so long."""
    process = await asyncio.create_subprocess_exec(
        python, "-c", HOLD, f"{database}-shm", str(seconds), stdout=asyncio.subprocess.PIPE
    )
    assert process.stdout is not None
    await process.stdout.readline()
    return process
