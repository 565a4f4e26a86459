"""Fetching files from a file server on loopback that may be silent, angry or too generous."""

import asyncio
import io
from collections.abc import AsyncIterator
from datetime import UTC, datetime
from types import SimpleNamespace
from typing import Any

import aiohttp
import discord
import pytest
from aiohttp import web
from discord.http import Route
from PIL import Image

from bot.interactions.downloads import MOST_BYTES, Downloads, may_be_fetched
from bot.interactions.files_at_once import UPLOADS_AT_ONCE
from bot.words.core.action_keys import ActionKey
from storage.records.request import Request
from tests.actions.conftest import Begin, begin  # noqa: F401
from tests.actions.hand_in_cast import BRIEF, handing_in
from tests.actions.office_cast import make_squad, until
from tests.interactions.test_deferred_answers import Wire, never, router_of

REQUEST = Request(id=1, at=datetime(2027, 1, 4, tzinfo=UTC), who=1, name="Ada")


class FileServer:
    """Counts how many downloads run at once."""

    def __init__(self) -> None:
        self.address = ""
        self.running = self.most = self.served = 0
        self.photo = b"x" * 10

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
            return web.Response(body=b"x" * (MOST_BYTES + 1) if what == "larger-than-said" else self.photo)
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
async def client(server: FileServer, monkeypatch: pytest.MonkeyPatch) -> AsyncIterator[discord.Client]:
    """A client of a platform that runs on this machine, and keeps its files there."""
    monkeypatch.setattr(Route, "BASE", f"{server.address}/api/v10")
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


@pytest.mark.parametrize(
    ("address", "api", "may"),
    [
        ("https://cdn.example.org/a.png", "https://chat.example.org/api/v10", True),
        ("http://127.0.0.1:8080/a.png", "http://127.0.0.1:9000/api/v10", True),
        ("http://127.0.0.1:8080/a.png", "https://chat.example.org/api/v10", False),
        ("http://10.0.0.1/router", "http://127.0.0.1:9000/api/v10", False),
        ("file:///etc/passwd", "https://chat.example.org/api/v10", False),
        ("https://[", "https://chat.example.org/api/v10", False),
        ("", "https://chat.example.org/api/v10", False),
    ],
)
def test_nothing_is_fetched_but_from_where_the_platform_keeps_files(address: str, api: str, may: bool) -> None:
    assert may_be_fetched(address, api) == may


async def test_a_file_of_this_machine_is_not_fetched_for_a_platform_elsewhere(
    client: discord.Client, server: FileServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Route, "BASE", "https://chat.example.org/api/v10")
    upload = await fetch(Downloads(), attachment(client, server, "photo"))
    assert (upload.failed, upload.data, server.served) == (True, b"", 0)


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


async def test_photos_of_a_whole_class_do_not_wait_in_the_memory(
    begin: Begin,  # noqa: F811
    client: discord.Client,
    server: FileServer,
) -> None:
    """They are fetched faster than they can be made small, one after the other."""
    asking = await begin("drafting", **handing_in())
    await asking.confirm("signup.open")
    for number in range(3):
        await make_squad(asking, 10 * number + 1, 5, f"Squad {'ABC'[number]}")
    await until(asking, BRIEF)
    file = io.BytesIO()
    Image.effect_noise((250, 250), 90).convert("RGB").save(file, "PNG")
    server.photo = file.getvalue()
    router = router_of(asking.store, never)
    wires: list[Any] = [Wire("hand-in.save", asking.now) for _ in range(15)]
    waiting: list[int] = []

    async def hand_in(number: int) -> None:
        wires[number].id = 9000 + number
        wires[number].user = SimpleNamespace(id=10 * (number // 5) + number % 5 + 1, display_name="Ida")
        photo = {"photo": attachment(client, server, f"photo-{number}", len(server.photo))}
        why = {"why": "We sorted the socks by colour."}
        await router.deal(wires[number], ActionKey.HAND_IN_SAVE, fields=why, files=photo)
        waiting.append(server.served - len(waiting) - 1)

    await asyncio.gather(*map(hand_in, range(15)))
    assert ["is in" in wire.sent[-1][1]["content"] for wire in wires] == [True] * 15
    assert max(waiting) <= UPLOADS_AT_ONCE
    assert (server.served, server.most) == (15, UPLOADS_AT_ONCE)
