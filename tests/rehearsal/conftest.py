"""A small class on the class server, and a bot reduced to the wire."""

from __future__ import annotations

from collections.abc import AsyncIterator
from datetime import UTC, datetime

import pytest

from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.world.permission_bits import MANAGE_GUILD
from tests.rehearsal.wire import WireBot

START = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


def small_class(server: ClassServer) -> ClassServer:
    """Fill a class server with a coach, two students and two channels."""
    coaches = server.world.add_role("Coaches", MANAGE_GUILD)
    server.world.add_person("Ms Holloway", coaches, owner=True)
    server.world.add_person("Ada Quill")
    server.world.add_person("Ben Marrow")
    server.world.add_channel("sign-up")
    server.world.add_channel("news")
    return server


@pytest.fixture
async def server() -> AsyncIterator[ClassServer]:
    async with small_class(ClassServer(START)) as running:
        yield running
        assert [v for v in running.request_log.violations if v.problem.startswith(("answer", "event"))] == []


@pytest.fixture
async def bot(server: ClassServer) -> AsyncIterator[WireBot]:
    async with WireBot(server) as wire:
        await wire.connect()
        yield wire


@pytest.fixture
def sign_up(server: ClassServer) -> str:
    """The path of the sign-up channel's messages."""
    return f"/channels/{server.world.room('sign-up').id}/messages"
