"""The books: what was asked, what was wrong with it, and what the server itself got wrong."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.request_log import NO_SCHEMA, RequestLog, percentile
from deploy.rehearsal.wire.openapi_schema import SCHEMA_VARIABLE, Schema, schema_path
from deploy.rehearsal.wire.request_bodies import Body
from deploy.rehearsal.world.api_errors import Refused
from tests.rehearsal.conftest import START, small_class
from tests.rehearsal.wire import WireBot, button, row, upload

POST = "POST /channels/{channel_id}/messages"
published = pytest.mark.skipif(schema_path() is None, reason="the platform's published schema is not at hand")


async def test_every_request_is_counted_by_its_route(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    for _ in range(3):
        await bot.call("POST", sign_up, {"content": "x"})
    await bot.call("GET", "/nonsense")
    assert server.request_log.requests == {POST: 3, "GET (unknown path)": 1}
    assert server.request_log.figures()["requests"][POST] == 3


@published
async def test_a_body_against_the_schema_is_listed_even_if_nothing_else_is_wrong(
    server: ClassServer, bot: WireBot, sign_up: str
) -> None:
    await bot.call("POST", sign_up, {"content": "x", "tts": "yes"})
    assert [(v.where, v.problem.split(":")[1].strip()) for v in server.request_log.violations] == [(POST, "tts")]


@published
async def test_the_json_part_of_an_upload_is_checked_too(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    files: list[dict[str, Any]] = [{"id": 0, "filename": "a.txt"}]
    await bot.call("POST", sign_up, data=upload({"attachments": files}, b"x"))
    assert server.request_log.violations == []
    await bot.call("POST", sign_up, data=upload({"attachments": files, "flags": "none"}, b"x"))
    assert "flags" in server.request_log.violations[0].problem


async def test_a_rule_the_schema_does_not_know_is_listed(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    await bot.call("POST", sign_up, {"components": [row(button(custom_id="a"), button(custom_id="a"))]})
    await bot.call("POST", sign_up, {"content": "x" * 2001})
    problems = " ".join(violation.problem for violation in server.request_log.violations)
    assert "duplicated" in problems
    assert "2000 or fewer" in problems


async def test_a_refusal_for_time_or_place_is_no_violation(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    assert (await bot.call("GET", f"{sign_up}/1")).code == 10008
    assert (await bot.call("POST", "/interactions/1/x/callback", {"type": 6})).code == 10062
    assert server.request_log.violations == []
    assert server.request_log.refusals == {10008: 1, 10062: 1}


@published
async def test_the_server_checks_its_own_answers() -> None:
    path = schema_path()
    assert path is not None
    request_log = RequestLog(Schema(path))
    request_log.response(POST, 200, {"id": "1"})
    request_log.event("INTERACTION_CREATE", {"user": {"id": "1"}})
    assert any(v.problem.startswith("answer 200") for v in request_log.violations)
    assert any(v.problem.startswith("event user") for v in request_log.violations)


@published
async def test_every_route_of_the_class_server_is_an_operation_of_the_published_schema(server: ClassServer) -> None:
    path = schema_path()
    assert path is not None
    operations = set(Schema(path).operations)
    routes = {route for routes in server.routes for route in routes.table()}
    assert routes - operations == set()
    assert len(routes) > 40


async def test_without_the_schema_the_books_say_so(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv(SCHEMA_VARIABLE, str(tmp_path / "nowhere.json"))
    async with small_class(ClassServer(START)) as server, WireBot(server) as bot:
        await bot.call("POST", f"/channels/{server.world.room('news').id}/messages", {"content": "x", "tts": "yes"})
        assert server.request_log.figures()["schema"] == {"checked": 0, "violations": [], "notes": [NO_SCHEMA]}
        await bot.call("POST", f"/channels/{server.world.room('news').id}/messages", {"content": "x" * 2001})
        assert len(server.request_log.violations) == 1, "the hand-written rules stand without it"


def test_percentiles_are_values_that_were_measured() -> None:
    values = [float(n) for n in range(1, 101)]
    assert [percentile(values, p) for p in (50, 99, 100)] == [50.0, 99.0, 100.0]
    assert percentile([7.0], 99) == 7.0
    assert percentile([], 99) is None


def test_the_same_violation_is_listed_once() -> None:
    request_log = RequestLog(None)
    for _ in range(3):
        request_log.request(POST, Body({"content": "x"}))
        request_log.refused(POST, Refused(50006))
    assert len(request_log.violations) == 1
    assert json.dumps(request_log.figures())


async def test_a_path_that_is_not_there_is_a_violation(server: ClassServer, bot: WireBot) -> None:
    await bot.call("GET", "/nonsense")
    assert [violation.where for violation in server.request_log.violations] == ["GET /nonsense"]
