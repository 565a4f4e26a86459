"""Fetching files from a file server on loopback that may be silent, angry or too generous."""

import asyncio
from collections.abc import AsyncIterator
from datetime import UTC, datetime
from typing import Any

import aiohttp
import discord
import pytest
from aiohttp import web

from bot.interactions.downloads import AT_ONCE, MOST_BYTES, Downloads
from storage.records.request import Request

REQUEST = Request(id=1, at=datetime(2027, 1, 4, tzinfo=UTC), who=1, name="Ada")


class FileServer:
    """Counts how many downloads run at once."""

    def __init__(self) -> None:
        self.address = ""
        self.running = self.most = self.served = 0

    async def give(self, request: web.Request) -> web.StreamResponse:
        self.running += 1
        self.most = max(self.most, self.running)
        try:
            what = request.match_info["what"]
            if what == "silent":
                await asyncio.sleep(30)
            if what == "gone":
                raise web.HTTPNotFound
            await asyncio.sleep(0.02)
            self.served += 1
            return web.Response(body=b"x" * (MOST_BYTES + 1 if what == "larger-than-said" else 10))
        finally:
            self.running -= 1


@pytest.fixture
async def server() -> AsyncIterator[FileServer]:
    files = FileServer()
    app = web.Application()
    app.router.add_get("/{what}", files.give)
    runner = web.AppRunner(app, shutdown_timeout=0.1)
    await runner.setup()
    site = web.TCPSite(runner, "127.0.0.1", 0)
    await site.start()
    files.address = f"http://127.0.0.1:{runner.addresses[0][1]}"
    yield files
    await runner.cleanup()


@pytest.fixture
async def client() -> AsyncIterator[discord.Client]:
    made = discord.Client(intents=discord.Intents.none())
    async with aiohttp.ClientSession() as session:
        setattr(made.http, "_HTTPClient__session", session)  # noqa: B010 - what a login would have opened
        yield made


class Pressed:
    """An interaction without a form: the files come with a command."""

    data: dict[str, Any] = {}


def attachment(client: discord.Client, server: FileServer, what: str, size: int = 10) -> discord.Attachment:
    sent: Any = {"id": "77", "filename": f"{what}.png", "size": size}
    at = f"{server.address}/{what}"
    return discord.Attachment(data=sent | {"url": at, "proxy_url": at}, state=client._connection)


async def fetch(downloads: Downloads, file: discord.Attachment) -> Any:
    request = await downloads.fetch(Pressed(), REQUEST, {"photo": file})  # type: ignore[arg-type]
    return request.uploads["photo"]


async def test_a_file_that_is_far_too_large_is_never_fetched(client: discord.Client, server: FileServer) -> None:
    film = await fetch(Downloads(), attachment(client, server, "film", MOST_BYTES + 1))
    assert (film.data, film.size, film.failed) == (b"", MOST_BYTES + 1, False)
    assert server.served == 0


async def test_a_file_that_is_larger_than_the_platform_said_is_not_taken(
    client: discord.Client, server: FileServer
) -> None:
    sent = await fetch(Downloads(), attachment(client, server, "larger-than-said"))
    assert (sent.data, sent.size) == (b"", MOST_BYTES + 1)


@pytest.mark.parametrize("what", ["silent", "gone"])
async def test_a_file_server_that_fails_costs_the_file_only(
    client: discord.Client, server: FileServer, what: str
) -> None:
    upload = await fetch(Downloads(patience_s=0.2), attachment(client, server, what))
    assert (upload.failed, upload.data) == (True, b"")


async def test_a_whole_class_in_the_last_minute_is_fetched_a_few_at_a_time(
    client: discord.Client, server: FileServer
) -> None:
    downloads = Downloads()
    files = [attachment(client, server, f"photo-{number}") for number in range(20)]
    uploads = await asyncio.gather(*(fetch(downloads, file) for file in files))
    assert all(upload.data == b"x" * 10 for upload in uploads)
    assert (server.served, server.most) == (20, AT_ONCE)
