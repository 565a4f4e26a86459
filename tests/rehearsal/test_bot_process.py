"""A bot in a process of its own is started, watched, ended and killed."""

from __future__ import annotations

import sys
from collections.abc import AsyncIterator
from datetime import timedelta
from pathlib import Path

import pytest

from deploy.rehearsal.season.bot_process import BotDied, BotProcess
from deploy.rehearsal.season.early_bot import EarlyBot
from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.conftest import START, small_class

pytestmark = pytest.mark.skipif(
    sys.platform == "win32", reason="ending a process politely is a matter of POSIX signals"
)
SMALL = ("-m", "tests.rehearsal.small_bot")


@pytest.fixture
async def process(server: ClassServer, tmp_path: Path) -> AsyncIterator[BotProcess]:
    bot = BotProcess(server, tmp_path / "season.db", tmp_path / "bot.log", arguments=SMALL)
    await bot.start()
    yield bot
    await bot.kill()


async def test_a_started_bot_is_connected_and_its_log_is_kept(process: BotProcess, server: ClassServer) -> None:
    assert process.running
    assert server.clock.connected
    assert "season.db" in process.log_end()
    if sys.platform == "linux":
        memory = process.rss_mib()
        assert memory is not None
        assert 5 < memory < 200


async def test_a_bot_is_ended_politely_and_started_again(process: BotProcess, server: ClassServer) -> None:
    assert await process.stop() == 0
    assert process.log_end().endswith("down")
    assert (process.running, process.exit_code) == (False, 0)
    await process.start()
    await server.clock.step_to(server.clock.now + timedelta(hours=1))
    assert (process.starts, process.restarts, process.kills) == (2, 1, 0)
    assert len(process.stop_s) == 1


async def test_a_bot_that_was_begun_before_its_class_server_finds_it_and_is_started_again(tmp_path: Path) -> None:
    early = EarlyBot(tmp_path / "season.db", tmp_path / "bot.log", arguments=SMALL)
    server = ClassServer(START, token=early.token, listening=early.listening)
    async with small_class(server):
        assert server.api.startswith(f"http://127.0.0.1:{early.listening.getsockname()[1]}/")
        bot = BotProcess(server, tmp_path / "season.db", tmp_path / "bot.log", arguments=SMALL, early=early)
        await bot.start()
        assert bot.running and server.clock.connected
        assert await bot.stop() == 0 and early.process.returncode == 0
        await bot.start()
        assert (bot.starts, bot.running) == (2, True)
        await bot.kill()


async def test_a_killed_bot_leaves_no_session_that_anybody_could_still_reach(
    process: BotProcess, server: ClassServer
) -> None:
    await process.kill()
    assert server.gateway.listeners() == []
    assert not process.log_end().endswith("down")
    await process.start()
    assert len(server.gateway.listeners()) == 1
    assert (process.kills, process.restarts) == (1, 1)


async def test_a_bot_that_ends_by_itself_is_reported_with_its_log(server: ClassServer, tmp_path: Path) -> None:
    bot = BotProcess(server, tmp_path / "x.db", tmp_path / "bot.log", arguments=(*SMALL, "fail"))
    with pytest.raises(BotDied, match=r"(?s)code 3.*the token is missing"):
        await bot.start()
