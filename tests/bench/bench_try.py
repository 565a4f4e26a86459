"""The try-it room: from the command to a usable page, from a press to the changed screen, and to the next morning."""

import asyncio
import time
from collections.abc import AsyncIterator, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import aiohttp

from deploy.rehearsal.tryroom.visitors import MARK
from tests.bench.report import Line, at_most, percentile
from tests.tryroom.browser import command

USABLE_S, PRESS_MS, MORNING_S = 4.0, 150.0, 2.0
Json = dict[str, Any]


def lines(quick: bool = False) -> Iterator[Line]:
    """Each beside its promise; a browser's own drawing, some milliseconds, comes on top."""
    with TemporaryDirectory() as folder:
        began = time.perf_counter()
        with command("--out", "room", folder=Path(folder)) as address:
            usable, presses, mornings = asyncio.run(_measure(address, began, 30 if quick else 150))
    yield at_most("try: command to usable page", f"{usable:.1f} s", usable, USABLE_S, "at most 4 s")
    p95 = percentile(presses, 95)
    text = f"p50 {percentile(presses, 50):.0f} ms, p95 {p95:.0f} ms, {len(presses)} presses"
    yield at_most("try: press to changed screen", text, p95, PRESS_MS, "p95 at most 150 ms")
    slowest = max(mornings)
    text = f"p50 {percentile(mornings, 50):.1f} s, slowest {slowest:.1f} s, {len(mornings)} mornings"
    yield at_most("try: to the next morning", text, slowest, MORNING_S, "at most 2 s")


async def _measure(address: str, began: float, count: int) -> tuple[float, list[float], list[float]]:
    async with aiohttp.ClientSession(headers={MARK: "1"}) as client:
        room = _Page(client, address)
        await room.get("")
        everyone = (await room.get("people"))["people"]
        usable = time.perf_counter() - began
        student = next(one["id"] for one in everyone if one["name"] == "Robin T")
        mornings = [seconds async for seconds in room.mornings(student, 16)]
        panel = next(one for one in (await room.get(f"screen?as={student}"))["rooms"] if one["name"] == "sign-up")
        screen = await room.get(f"screen?as={student}&room={panel['id']}")
        message = next(one for one in screen["messages"] if any(block.get("button") for block in one["blocks"]))
        button = [block for block in message["blocks"] if "button" in block][-1]
        asked = {"as": student, "room": panel["id"], "do": "press", "message": message["id"], "id": button["id"]}
        presses = []
        for _ in range(count):
            start = time.perf_counter()
            answer = await room.post("do", asked)
            presses.append(1000 * (time.perf_counter() - start))
            assert answer["screen"] and not answer["failure"], answer
        return usable, presses, mornings


class _Page:
    """What the page asks the room."""

    def __init__(self, client: aiohttp.ClientSession, address: str) -> None:
        self._client = client
        self._address = address

    async def get(self, path: str) -> Json:
        async with self._client.get(self._address + path) as answer:
            return dict(await answer.json()) if path else {"text": await answer.text()}

    async def post(self, path: str, body: Json) -> Json:
        async with self._client.post(self._address + path, json=body) as answer:
            return dict(await answer.json())

    async def mornings(self, person: str, count: int) -> AsyncIterator[float]:
        """Seconds from one morning to the next, from the first day through the brief and the days after it."""
        for _ in range(count):
            start = time.perf_counter()
            await self.post("move", {"as": person, "to": "morning", "wait": False})
            yield time.perf_counter() - start
