"""Starting and stopping the real program: what stands in the way is one sentence, and a stop is quick and clean."""

import asyncio
import os
import signal
import sqlite3
import sys
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import AsyncExitStack, asynccontextmanager, closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from aiohttp import web

from bot.app import _open_store
from bot.settings import Settings
from deploy.rehearsal.server.class_server import ClassServer
from storage.lock import only_process
from storage.migrate import migrate
from tests.app.real_program import TOKEN, end_with, running, tenbell


@pytest.fixture
async def server() -> AsyncIterator[ClassServer]:
    there = ClassServer(datetime.now(UTC))
    there.world.add_channel("news")
    async with there:
        yield there


@asynccontextmanager
async def platform_that_says(status: int, body: object) -> AsyncIterator[str]:
    """A server that answers everything in one way; its REST base."""

    async def answer(_: web.Request) -> web.Response:
        return web.json_response(body, status=status)

    app = web.Application()
    app.router.add_route("*", "/{rest:.*}", answer)
    runner = web.AppRunner(app)
    await runner.setup()
    await web.TCPSite(runner, "127.0.0.1", 0).start()
    try:
        yield f"http://127.0.0.1:{runner.addresses[0][1]}/api/v10"
    finally:
        await runner.cleanup()


def names_in(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir()]


async def test_no_token(tmp_path: Path) -> None:
    ended = await tenbell("run", folder=tmp_path)
    assert ended.sentence().startswith("No bot token.")
    assert not names_in(tmp_path), "nothing is made before it can start"


async def test_a_token_that_the_platform_does_not_know(tmp_path: Path, server: ClassServer) -> None:
    ended = await tenbell("run", folder=tmp_path, TENBELL_TOKEN=TOKEN, TENBELL_API=server.api)
    assert ended.sentence().startswith("The platform refused the bot token.")


async def test_an_address_where_something_else_lives(tmp_path: Path) -> None:
    async with platform_that_says(404, {"message": "no such page"}) as address:
        ended = await tenbell("run", folder=tmp_path, TENBELL_TOKEN=TOKEN, TENBELL_API=address)
    assert ended.sentence().startswith(f"{address} did not let me in (HTTP 404, code 0).")


async def test_an_address_that_would_send_the_token_in_clear(tmp_path: Path) -> None:
    ended = await tenbell("run", folder=tmp_path, TENBELL_TOKEN=TOKEN, TENBELL_API="http://example.org/api/v10")
    assert "use https://" in ended.sentence()
    assert TOKEN not in ended.complained


def newer(path: Path) -> None:
    migrate(path)
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("PRAGMA user_version = 999")


def garbage(path: Path) -> None:
    path.write_bytes(b"this is a shopping list, not a database; " * 300)


def inside_a_file(path: Path) -> None:
    path.parent.rmdir()
    path.parent.write_text("a file where the folder should be", "utf-8")


@pytest.mark.parametrize(
    ("prepare", "said"),
    [
        (newer, "was written by a newer Tenbell"),
        (garbage, "is damaged"),
        (lambda path: path.mkdir(), "I cannot use the database"),
        (inside_a_file, "I cannot use the database"),
        (lambda path: path.parent.rmdir(), "I cannot use the database"),
    ],
    ids=["newer", "garbage", "a folder", "inside a file", "no such folder"],
)
async def test_a_database_that_cannot_be_used(tmp_path: Path, prepare: Callable[[Path], object], said: str) -> None:
    home = tmp_path / "home"
    home.mkdir()
    prepare(home / "tenbell.db")
    database = str(home / "tenbell.db")
    ended = await tenbell("run", folder=tmp_path, TENBELL_TOKEN=TOKEN, TENBELL_DATABASE=database)
    assert said in ended.sentence()
    assert database in ended.sentence()


async def test_the_bot_waits_for_the_disk_before_it_says_that_something_is_done(tmp_path: Path) -> None:
    async with AsyncExitStack() as stack:
        store = await _open_store(stack, Settings("token", tmp_path / "a.db"))
        async with store.write() as db:
            assert await db.value("PRAGMA synchronous") == 2, "2 is FULL"


@pytest.fixture
def shut_folder(tmp_path: Path) -> Iterator[Path]:
    if os.name != "posix" or os.geteuid() == 0:
        pytest.skip("only POSIX shuts folders, and not to the superuser")
    tmp_path.chmod(0o500)
    yield tmp_path
    tmp_path.chmod(0o700)


async def test_a_folder_in_which_nothing_may_be_written(shut_folder: Path) -> None:
    ended = await tenbell("run", folder=shut_folder, TENBELL_TOKEN=TOKEN)
    assert "I cannot use the database" in ended.sentence()


async def test_a_database_that_another_process_has(tmp_path: Path) -> None:
    with only_process(tmp_path / "tenbell.db"):
        ended = await tenbell("run", folder=tmp_path, TENBELL_TOKEN=TOKEN)
    assert ended.sentence().startswith("Another Tenbell is running on tenbell.db.")


@pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are a matter of POSIX")
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
async def test_a_polite_stop_takes_less_than_five_seconds(
    tmp_path: Path, server: ClassServer, number: signal.Signals
) -> None:
    async with running(tmp_path, server) as process:
        await asyncio.wait_for(server.gateway.identified.wait(), 120)
        await server.machine.sleep(0.5)
        ended = await end_with(process, number)
    assert ended.code == 0
    assert "Traceback" not in ended.complained
    assert ended.seconds < 5


@pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are a matter of POSIX")
async def test_a_polite_stop_just_after_the_start(tmp_path: Path, server: ClassServer) -> None:
    """Most of the program is still being imported then."""
    async with running(tmp_path, server) as process:
        await asyncio.wait_for(server.gateway.identified.wait(), 120)
        ended = await end_with(process, signal.SIGTERM)
    assert ended.code == 0
    assert "Traceback" not in ended.complained
    assert ended.seconds < 5


@pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are a matter of POSIX")
async def test_a_polite_stop_while_the_platform_keeps_silent(tmp_path: Path) -> None:
    called = asyncio.Event()

    async def silence(_: web.Request) -> web.Response:
        called.set()
        await asyncio.sleep(60)
        return web.Response()

    app = web.Application()
    app.router.add_route("*", "/{rest:.*}", silence)
    runner = web.AppRunner(app, shutdown_timeout=0.1)
    await runner.setup()
    await web.TCPSite(runner, "127.0.0.1", 0).start()
    address = f"http://127.0.0.1:{runner.addresses[0][1]}/api/v10"
    async with running(tmp_path, TENBELL_TOKEN=TOKEN, TENBELL_API=address) as process:
        await asyncio.wait_for(called.wait(), 120)
        ended = await end_with(process, signal.SIGTERM)
    await runner.cleanup()
    assert ended.code == 0
    assert "Traceback" not in ended.complained
    assert ended.seconds < 5


async def test_the_lock_is_free_again_after_a_stop(tmp_path: Path, server: ClassServer) -> None:
    for _ in range(2):
        server.gateway.identified.clear()
        async with running(tmp_path, server) as process:
            await asyncio.wait_for(server.gateway.identified.wait(), 120)
            process.kill()
            await process.wait()
    with only_process(tmp_path / "tenbell.db"):
        pass
