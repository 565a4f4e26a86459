"""What the checks of this floor share: the real chat library against a small class server on loopback."""

from collections.abc import AsyncIterator
from pathlib import Path

import discord
import pytest

from tests.delivery.server_view import Wire, logged_in, serving
from tests.delivery.tryout_on_loopback import Town, town


@pytest.fixture
async def wire() -> AsyncIterator[Wire]:
    server = Wire()
    async with serving(server):
        yield server


@pytest.fixture
async def client(wire: Wire) -> AsyncIterator[discord.Client]:
    async with logged_in(wire) as opened:
        yield opened


@pytest.fixture
async def place(tmp_path: Path, wire: Wire, client: discord.Client) -> AsyncIterator[Town]:
    async with town(tmp_path / "tenbell.db", wire, client) as opened:
        yield opened
