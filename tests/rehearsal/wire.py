"""A bot reduced to the bare wire: REST calls, one gateway connection, and answers given by a function of the test."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Awaitable, Callable
from io import BytesIO
from types import TracebackType
from typing import Any

import aiohttp

from deploy.rehearsal.server.class_server import ClassServer

Json = dict[str, Any]
Reply = Callable[["WireBot", Json], Awaitable[None]]
AGENT = "DiscordBot (https://example.invalid, 1)"
GUILDS_AND_DIRECT = 1 | 1 << 12


class Got:
    """A response: status, headers, and the parsed body if there was one."""

    def __init__(self, status: int, headers: Any, body: Any) -> None:
        self.status = status
        self.headers = headers
        self.body = body

    @property
    def code(self) -> int:
        """The platform's error code."""
        return int(self.body["code"])


class WireBot:
    """Speaks to the class server without any chat library, so that a test can also say what no library would."""

    def __init__(self, server: ClassServer, reply: Reply | None = None, *, intents: int = GUILDS_AND_DIRECT) -> None:
        self.server = server
        self.reply = reply
        self.events: list[tuple[str, Json]] = []
        self.sequence = 0
        self.session_id = ""
        self._intents = intents
        self._tasks: set[asyncio.Task[None]] = set()
        self._listening: asyncio.Task[None] | None = None
        self._session: aiohttp.ClientSession | None = None
        self._socket: aiohttp.ClientWebSocketResponse | None = None

    @property
    def session(self) -> aiohttp.ClientSession:
        assert self._session is not None
        return self._session

    @property
    def socket(self) -> aiohttp.ClientWebSocketResponse:
        assert self._socket is not None
        return self._socket

    async def __aenter__(self) -> WireBot:
        self._session = aiohttp.ClientSession()
        return self

    async def __aexit__(self, kind: type[BaseException] | None, value: Any, trace: TracebackType | None) -> None:
        if kind is None:
            await self.replied()
        for task in list(self._tasks):
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)
        if self._socket is not None:
            await self._socket.close()
        await self.session.close()

    async def call(
        self, method: str, path: str, body: Any = None, *, headers: dict[str, str] | None = None, data: Any = None
    ) -> Got:
        """Send a request as the bot; `data` is a multipart form in place of a JSON body."""
        own = {"Authorization": f"Bot {self.server.token}", "User-Agent": AGENT} | (headers or {})
        payload: dict[str, Any] = {"data": data} if data is not None else {"json": body} if body is not None else {}
        async with self.session.request(method, self.server.api + path, headers=own, **payload) as response:
            raw = await response.read()
            return Got(response.status, response.headers, json.loads(raw) if raw else None)

    async def callback(self, event: Json, kind: int, data: Any = None) -> Got:
        """Give the first answer to an interaction."""
        body: Json = {"type": kind}
        if data is not None:
            body["data"] = data
        return await self.call("POST", f"/interactions/{event['id']}/{event['token']}/callback?with_response=1", body)

    async def webhook(self, method: str, event: Json, rest: str = "", body: Any = None) -> Got:
        """Use an interaction's token for what comes after the first answer."""
        return await self.call(method, f"/webhooks/{event['application_id']}/{event['token']}{rest}", body)

    async def dial(self, *, query: str = "?v=10&encoding=json") -> None:
        """Open a gateway connection and read HELLO."""
        self._socket = await self.session.ws_connect(f"ws://127.0.0.1:{self.server.port}/gateway{query}")

    async def connect(self) -> None:
        """Open a gateway connection, identify, and listen from then on."""
        await self.dial()
        assert (await self.receive())["op"] == 10
        await self.send(2, self.identity())
        ready = await self.receive()
        assert ready["t"] == "READY"
        self.session_id = ready["d"]["session_id"]
        self.sequence = ready["s"]
        self._listening = self._spawn(self._listen())

    def identity(self) -> Json:
        """The data of an IDENTIFY."""
        return {"token": self.server.token, "intents": self._intents, "properties": {}}

    async def send(self, operation: int, data: Any) -> None:
        """Send one gateway frame."""
        await self.socket.send_json({"op": operation, "d": data})

    async def receive(self) -> Json:
        """Read one gateway frame."""
        frame = await self.socket.receive_json(timeout=60)
        assert isinstance(frame, dict)
        return frame

    async def closed(self) -> int:
        """Read until the server closes the connection and return its close code."""
        while True:
            message = await self.socket.receive(timeout=60)
            if message.type in (aiohttp.WSMsgType.CLOSE, aiohttp.WSMsgType.CLOSED, aiohttp.WSMsgType.CLOSING):
                return int(self.socket.close_code or 0)

    async def heard(self, name: str, count: int = 1) -> list[Json]:
        """Wait until `count` events of this name were heard, and return them."""
        await until(lambda: len([1 for event, _ in self.events if event == name]) >= count)
        return [data for event, data in self.events if event == name]

    async def replied(self) -> None:
        """Wait until every reply that was begun is over: a person may see an answer before the bot knows of it."""
        if replies := self._tasks - {self._listening}:
            await asyncio.wait(replies, timeout=60)

    async def _listen(self) -> None:
        async for message in self.socket:
            frame = json.loads(message.data)
            self.sequence = frame["s"] or self.sequence
            if frame["op"] != 0:
                continue
            self.events.append((frame["t"], frame["d"]))
            if frame["t"] == "INTERACTION_CREATE" and self.reply is not None:
                self._spawn(self.reply(self, frame["d"]))

    def _spawn(self, work: Any) -> asyncio.Task[None]:
        task = asyncio.get_running_loop().create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)
        return task


async def until(condition: Callable[[], bool], seconds: float = 60.0) -> None:
    """Wait until something has come about."""
    async with asyncio.timeout(seconds):
        while not condition():  # noqa: ASYNC110 - what is waited for tells nobody when it changes
            await asyncio.sleep(0.005)


def row(*components: Json) -> Json:
    """An action row."""
    return {"type": 1, "components": list(components)}


def button(label: str = "Press", custom_id: str = "press", **more: Any) -> Json:
    """A button."""
    return {"type": 2, "style": 1, "label": label, "custom_id": custom_id} | more


def select(count: int = 2, **more: Any) -> Json:
    """A string select with `count` options."""
    options = [{"label": f"Option {n}", "value": str(n)} for n in range(count)]
    return {"type": 3, "custom_id": "select", "options": options} | more


def label(component: Json, text: str = "Name", **more: Any) -> Json:
    """A label around one input of a form."""
    return {"type": 18, "label": text, "component": component} | more


def text_input(custom_id: str = "text", **more: Any) -> Json:
    """A single-line text input."""
    return {"type": 4, "custom_id": custom_id, "style": 1} | more


def form(*components: Json, **more: Any) -> Json:
    """The data of a modal."""
    return {"title": "A form", "custom_id": "form", "components": list(components)} | more


def upload(payload: Json, *files: bytes) -> aiohttp.FormData:
    """A multipart body as the chat library writes it: `payload_json` first, then `files[n]`."""
    data = aiohttp.FormData(default_to_multipart=True)
    data.add_field("payload_json", json.dumps(payload), content_type="text/plain")
    for number, content in enumerate(files):
        name = payload["attachments"][number]["filename"]
        data.add_field(f"files[{number}]", BytesIO(content), filename=name, content_type="application/octet-stream")
    return data
