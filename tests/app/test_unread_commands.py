"""Commands that do not get as far as their function, in the real program: answered once, privately, without a name."""

import asyncio
import signal
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Outcome, together
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.wire.interaction_events import Interaction
from deploy.rehearsal.world.api_errors import Json
from tests.app.real_program import end_with, running
from tests.bench.school import class_server, open_signup

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are a matter of POSIX")

COACH = "Ms Holloway"
ATTEMPT = {"squad": "Wanda and friends", "measure": "Socks", "value": "9"}


def nothing_resolved(payload: Json) -> None:
    payload["data"].pop("resolved")


def option_of_another_version(payload: Json) -> None:
    payload["data"]["options"][0]["name"] = "somebody"


def command_of_another_version(payload: Json) -> None:
    payload["data"]["name"] = "invite"


async def asked(
    server: ClassServer, spoil: Callable[[Json], None], line: str = "/score", options: Mapping[str, Any] = ATTEMPT
) -> Outcome:
    """The coach types a command, and it arrives spoilt."""
    create = server.interactions.events.create

    def spoilt(interaction: Interaction) -> Json:
        payload = create(interaction)
        spoil(payload)
        return payload

    server.interactions.events.create = spoilt  # type: ignore[method-assign]
    try:
        (outcome,) = await together(Phone(server, COACH).command(line, options, room="office"))
        return outcome
    finally:
        server.interactions.events.create = create  # type: ignore[method-assign]


async def test_every_one_is_answered_and_no_name_is_logged(tmp_path: Path) -> None:
    async with class_server() as server:
        await open_signup(server, tmp_path / "tenbell.db")
        async with running(tmp_path, server) as process:
            await asyncio.wait_for(server.gateway.identified.wait(), 120)
            for _ in range(600):
                if Phone(server, COACH).commands("office"):
                    break
                await server.machine.sleep(0.05)
            for spoil in (option_of_another_version, command_of_another_version):
                outcome = await asked(server, spoil)
                assert outcome.kind == "private answer", spoil
                assert outcome.text.startswith("I could not carry out this, so nothing was changed."), spoil
            file = {"file": ("plan.toml", b"name = 'Wanda'")}
            assert (await asked(server, nothing_resolved, "/plan", file)).kind == "private answer"
            ended = await end_with(process, signal.SIGTERM)
    assert "Wanda" not in ended.complained and "Traceback" not in ended.complained
