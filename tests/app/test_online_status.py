"""How one sees that the bot is well, and what the coach is told after it was away."""

import asyncio
import re
import signal
import socket
import sys
from collections.abc import AsyncIterator
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bot.online_status import OnlineStatus
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import together
from deploy.rehearsal.server.class_server import ClassServer
from storage.backup import backups
from storage.records.message import Message
from storage.records.status_file import Heartbeat
from storage.status_file import heartbeat_file, read_heartbeat, write_heartbeat
from storage.store import Store
from storage.tables import outbox, tryouts
from tests.app.real_program import PATIENCE_S, end_with, running, tenbell
from tests.bench.school import class_server, open_signup
from tests.databases import new_store
from tests.delivery.tryout_on_loopback import HandClock
from tests.rehearsal.wire import until

COACH = "Ms Holloway"
posix = pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are a matter of POSIX")


@pytest.fixture
async def server(tmp_path: Path) -> AsyncIterator[ClassServer]:
    async with class_server() as there:
        await open_signup(there, tmp_path / "tenbell.db")
        yield there


def received(manager: socket.socket) -> list[str]:
    """What was sent to the service manager."""
    found = []
    with suppress(BlockingIOError):
        while True:
            found.append(manager.recv(100).decode())
    return found


def office(server: ClassServer) -> list[str]:
    return [shown.text for shown in Phone(server, COACH).see("office")]


@posix
async def test_status_office_and_the_service_manager_are_told(tmp_path: Path, server: ClassServer) -> None:
    none = await tenbell("status", folder=tmp_path)
    assert (none.code, none.said.strip()) == (1, "No Tenbell has run on tenbell.db yet.")
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as manager:
        manager.bind(str(tmp_path / "notify"))
        manager.setblocking(False)
        database, address = tmp_path / "tenbell.db", str(tmp_path / "notify")
        async with running(tmp_path, server, NOTIFY_SOCKET=address) as process:
            await until(
                lambda: (beat := read_heartbeat(database)) is not None and beat.online_since is not None, PATIENCE_S
            )
            await until(lambda: bool(backups(database)), PATIENCE_S)
            await server.machine.sleep(0.5)
            (shown,) = await together(Phone(server, COACH).command("/office", room="office"))
            assert re.search(r"-# Came on line <t:\d+:R>\. Last backup <t:\d+:R>\.$", shown.text), shown.text
            well = await tenbell("status", folder=tmp_path)
            await end_with(process, signal.SIGTERM)
        told = received(manager)
    assert well.code == 0, well
    for line in ("process", "on line for", "Last event", "Next due", "Last backup", "Disk left"):
        assert line in well.said
    assert told[:2] == ["READY=1", "WATCHDOG=1"] and told[-1] == "STOPPING=1"
    assert heartbeat_file(tmp_path / "tenbell.db").stat().st_mode & 0o077 == 0
    gone = await tenbell("status", folder=tmp_path)
    assert gone.code == 1 and gone.said.startswith("Not running: it was stopped")


@posix
async def test_after_it_was_off_the_coach_learns_what_comes_late_and_why(tmp_path: Path, server: ClassServer) -> None:
    database, now = tmp_path / "tenbell.db", datetime.now(UTC)
    async with Store.open(database) as store, store.write() as db:
        (tryout,) = await tryouts.all_running(db)
        await outbox.enqueue(db, tryout.id, "news", Message(text="Bring a sock."), now - timedelta(minutes=30))
    before = Heartbeat(
        at=now - timedelta(hours=2), started_at=now - timedelta(days=1), version="0", pid=1, free_bytes=1,
        online_since=now - timedelta(days=1),
    )  # fmt: skip
    write_heartbeat(database, before)
    async with running(tmp_path, server) as process:
        await until(lambda: any("I was away" in text for text in office(server)), PATIENCE_S)
        await end_with(process, signal.SIGTERM)
    async with running(tmp_path, server) as process:
        await asyncio.wait_for(server.gateway.identified.wait(), PATIENCE_S)
        await server.machine.sleep(2)
        await end_with(process, signal.SIGTERM)
    (told,) = [text for text in office(server) if "I was away" in text]
    assert "I was not running" in told
    assert ": 1 message\n" in told
    assert "Bring a sock." in [shown.text for shown in Phone(server, COACH).see("news")]


class Life:
    """Signs of life under a clock that is moved by hand."""

    def __init__(self, folder: Path, before: Heartbeat | None = None) -> None:
        self.database = folder / "tenbell.db"
        if before is not None:
            write_heartbeat(self.database, before)
        self.clock = HandClock()
        self.signs = OnlineStatus(self.database, self.clock)

    def missed(self) -> list[tuple[int, str]]:
        return [(int((until - since).total_seconds() // 60), why) for since, until, why in self.signs._missed]


def test_a_long_outage_is_a_gap_and_a_short_one_is_none(tmp_path: Path) -> None:
    life = Life(tmp_path)
    life.signs.came_on_line()
    began = life.clock.now()
    for minutes in (0.5, 9, 45):
        life.signs.went_off_line()
        life.clock.move(timedelta(minutes=minutes))
        life.signs.went_off_line()
        life.signs.came_on_line()
        since = life.signs.state().online_since
        assert since == (began if minutes < 1 else life.clock.now())
    assert life.missed() == [(45, "network")]


async def test_a_heartbeat_that_comes_far_too_late_means_that_the_machine_slept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.online_status.BEAT_S", 0.01)
    life = Life(tmp_path)
    life.signs.came_on_line()
    async with new_store(tmp_path / "other.db") as store:
        # Off line, so that what was missed is kept and not told at once.
        life.signs.went_off_line()
        beating = asyncio.create_task(life.signs.beat(store))
        await until(lambda: read_heartbeat(life.database) is not None, PATIENCE_S)
        life.clock.move(timedelta(hours=8))
        await until(lambda: bool(life.missed()), PATIENCE_S)
        beating.cancel()
        await asyncio.wait([beating])
    assert life.missed() == [(480, "asleep")]


def test_a_start_soon_after_the_stop_is_no_gap(tmp_path: Path) -> None:
    now = HandClock().now()
    before = Heartbeat(at=now - timedelta(minutes=3), started_at=now, version="0", pid=1, free_bytes=1, stopped=True)
    life = Life(tmp_path, before)
    life.signs.came_on_line()
    assert life.missed() == []
