"""The nightly backup of the real program, and the coach who hears of it when it fails."""

import shutil
from collections.abc import AsyncIterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.season.bot_process import BotProcess
from deploy.rehearsal.server.class_server import ClassServer
from storage.backup import backups, folder_of
from storage.database_file import check_database
from tests.bench.school import class_server, open_signup

COACH = "Ms Holloway"
NOON = datetime(2027, 1, 11, 12, tzinfo=UTC)
"""Of a day on which no other backup is made."""


@pytest.fixture
async def server(tmp_path: Path) -> AsyncIterator[ClassServer]:
    there = class_server(now=NOON)
    async with there:
        await open_signup(there, tmp_path / "tenbell.db")
        yield there


def office(server: ClassServer) -> list[str]:
    """What stands in the coach's room about backups."""
    return [shown.text for shown in Phone(server, COACH).see("office") if "back up" in shown.text]


async def test_there_is_one_at_the_start_and_one_a_night(tmp_path: Path, server: ClassServer) -> None:
    database = tmp_path / "tenbell.db"
    bot = BotProcess(server, database, tmp_path / "log")
    await bot.start()
    began = server.clock.now
    await server.clock.step_to(began + timedelta(days=2))
    await bot.stop()
    found = backups(database)
    assert len(found) == 3
    assert [one.made_at.strftime("%H%M") for one in found[:2]] == ["0330", "0330"]
    assert abs(found[2].made_at - began) < timedelta(seconds=2)
    for one in found:
        check_database(one.path)
    await bot.start()
    await server.clock.settle()
    await bot.stop()
    assert len(backups(database)) == 3, "a restart on the same day needs no other"
    assert office(server) == []


async def test_the_coach_hears_once_that_it_fails_and_again_after_it_worked(
    tmp_path: Path, server: ClassServer
) -> None:
    database = tmp_path / "tenbell.db"
    folder = folder_of(database)
    folder.write_text("in the way", "utf-8")
    bot = BotProcess(server, database, tmp_path / "log")
    await bot.start()
    await server.clock.step_to(server.clock.now + timedelta(days=2))
    assert len(office(server)) == 1
    folder.unlink()
    await server.clock.step_to(server.clock.now + timedelta(days=1))
    assert len(backups(database)) == 1
    shutil.rmtree(folder)
    folder.write_text("in the way again", "utf-8")
    await server.clock.step_to(server.clock.now + timedelta(days=1))
    assert len(office(server)) == 2
    await bot.stop()
