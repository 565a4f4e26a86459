"""Garbage and malformed events on the line, close codes: the real program goes on, or says why it cannot."""

import asyncio
import json
import signal
import sys
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Any

import pytest

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import together
from deploy.rehearsal.server import gateway_connection
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.wire.interaction_events import Interaction
from deploy.rehearsal.world.api_errors import Json
from tests.app.real_program import end_with, running
from tests.app.student_press import asks, line_of
from tests.bench.school import class_server, open_signup, student

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals of this kind are a matter of POSIX")


@pytest.fixture
async def server(tmp_path: Path) -> AsyncIterator[ClassServer]:
    async with class_server(1) as there:
        await open_signup(there, tmp_path / "tenbell.db")
        yield there


FRAMES = (
    "not JSON at all", '{"op": 0, "t": "MESSAGE_CR', "[]", '"a string"', "null", "3",
    json.dumps({"op": 10, "d": None}), json.dumps({"op": 10}), json.dumps({"op": "nine", "d": 7}),
    json.dumps({"op": 0, "s": 999, "t": "TYPING_START", "d": {}}),
    json.dumps({"op": 0, "s": 999, "t": "INTERACTION_CREATE", "d": {"type": 3}}),
    json.dumps({"op": 0, "s": 999, "t": "GUILD_CREATE", "d": None}),
    b"\x00\x01garbage that no zlib stream begins with",
)  # fmt: skip


async def test_garbage_on_the_line_costs_a_new_line_at_most(tmp_path: Path, server: ClassServer) -> None:
    async with running(tmp_path, server) as process:
        assert not (await asks(server)).failed
        for frame in FRAMES:
            line = line_of(server)
            if isinstance(frame, bytes):
                await line.socket.send_bytes(frame)
            else:
                line.put(frame)
            await server.machine.sleep(0.2)
            while (outcome := await asks(server)).failed:
                assert process.returncode is None, frame
            assert "not in a squad" in outcome.text, frame
        ended = await end_with(process, signal.SIGTERM)
    assert ended.code == 0
    assert "garbage that" not in ended.complained and "a string" not in ended.complained


async def test_a_broken_press_is_answered_as_far_as_it_says_where(
    tmp_path: Path, server: ClassServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with running(tmp_path, server) as process:
        assert not (await asks(server)).failed
        phone = Phone(server, student(0))
        create = server.interactions.events.create

        def broken(interaction: Interaction) -> Json:
            payload = create(interaction)
            payload["data"].pop("component_type", None)
            return payload

        monkeypatch.setattr(server.interactions.events, "create", broken)
        (outcome,) = await together(phone.press(phone.with_button("signup", "My squad"), "My squad"))
        assert outcome.text.startswith("I could not carry out this")
        await end_with(process, signal.SIGTERM)


async def test_a_broken_command_that_does_not_say_where_to_answer_is_left_out_and_no_fault(
    tmp_path: Path, server: ClassServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with running(tmp_path, server) as process:
        assert not (await asks(server)).failed
        phone, create = Phone(server, student(0)), server.interactions.events.create
        with monkeypatch.context() as patched:
            patched.setattr(server.interactions.events, "create", lambda one: create(one) | {"token": [[]], "data": {}})
            phone.command("/my-squad", room="news").begin()
        assert not (await asks(server)).failed
        ended = await end_with(process, signal.SIGTERM)
    assert " fault " not in ended.complained


async def test_a_ready_without_its_fields_and_a_hello_without_a_pulse_are_tried_again(
    tmp_path: Path, server: ClassServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    dispatch, frame, broken = server.gateway.dispatch, gateway_connection._frame, {"READY": 2, "HELLO": 2}

    def spoil(session: Any, name: str, data: Any) -> None:
        if name == "READY" and broken["READY"]:
            broken["READY"] -= 1
            data = {"v": 10} if broken["READY"] else {**data, "user": None}
        dispatch(session, name, data)

    def spoilt(operation: int, data: Any) -> str:
        if operation == 10 and broken["HELLO"]:
            broken["HELLO"] -= 1
            data = None if broken["HELLO"] else {}
        return frame(operation, data)

    monkeypatch.setattr(server.gateway, "dispatch", spoil)
    monkeypatch.setattr(gateway_connection, "_frame", spoilt)
    async with running(tmp_path, server) as process:
        assert not (await asks(server)).failed
        assert broken == {"READY": 0, "HELLO": 0}
        ended = await end_with(process, signal.SIGTERM)
    assert ended.code == 0


@pytest.mark.parametrize(
    ("code", "said"),
    [
        (4004, "The platform refused the bot token."),
        (4014, "The platform does not let me hear what I need."),
        (4012, "the platform did not let me in (gateway code 4012)."),
    ],
)
async def test_close_codes_that_no_waiting_mends_end_in_one_sentence(
    tmp_path: Path, server: ClassServer, code: int, said: str
) -> None:
    async with running(tmp_path, server) as process:
        assert not (await asks(server)).failed
        await line_of(server).close(code)
        out, complained = await asyncio.wait_for(process.communicate(), 60)
    assert process.returncode == 2
    last = complained.decode().splitlines()[-1]
    assert last.startswith(said)
    assert "Traceback" not in complained.decode() and not out
