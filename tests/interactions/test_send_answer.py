"""The one answer: the platform is not asked to repeat it, and what cannot be sent is led to or let go."""

from typing import Any

import aiohttp
import discord
import pytest
from aiohttp import web
from aiohttp.test_utils import TestServer
from discord.webhook.async_ import interaction_message_response_params

from bot.interactions.send_answer import CallbackAdapter
from tests.actions.conftest import Begin, begin  # noqa: F401
from tests.interactions.test_deferred_answers import Wire, never, router_of


async def test_an_answer_goes_out_whole_and_is_not_sent_back(monkeypatch: pytest.MonkeyPatch) -> None:
    """Query and empty answer are the platform's, by its page on interaction callbacks (`with_response`)."""
    came: list[tuple[str, dict[str, str], Any]] = []

    async def take(request: web.Request) -> web.Response:
        came.append((request.path, dict(request.query), await request.json()))
        return web.Response(status=204)

    application = web.Application()
    application.router.add_post("/interactions/{id}/{token}/callback", take)
    async with TestServer(application) as running, aiohttp.ClientSession() as session:
        monkeypatch.setattr(discord.http.Route, "BASE", f"http://127.0.0.1:{running.port}")
        answer = interaction_message_response_params(type=4, content="Signed up.")
        back = await CallbackAdapter().create_interaction_response(5, "a-token", session=session, params=answer)
    assert came == [
        ("/interactions/5/a-token/callback", {}, {"type": 4, "data": {"tts": False, "content": "Signed up."}})
    ]
    assert back == {"interaction": {"id": 5}}


@pytest.mark.parametrize("odd", ["\ud800", "x" * 100, ""])
async def test_a_form_that_follows_a_form_with_an_odd_key_is_asked_for_once_more(begin: Begin, odd: str) -> None:  # noqa: F811
    asking = await begin()
    wire: Any = Wire("squad.start", asking.now)
    wire.type = discord.InteractionType.modal_submit
    wire.data = {"custom_id": f"squad.start:{odd}", "components": []}
    await router_of(asking.store, never).pressed(wire)
    ((kind, said),) = wire.sent
    assert kind == "message"
    assert said


async def test_an_event_without_a_person_whose_answer_gets_lost_is_no_fault_of_ours(
    begin: Begin,  # noqa: F811
    caplog: pytest.LogCaptureFixture,
) -> None:
    asking = await begin()
    wire: Any = Wire("pad.tap:1:sock:more", asking.now)
    wire.user = discord.utils.MISSING

    async def cut(*_: Any, **__: Any) -> None:
        raise OSError

    wire.send_message = cut
    await router_of(asking.store, never).pressed(wire)
    assert "could not answer pad.tap" in caplog.text and "fault" not in caplog.text
