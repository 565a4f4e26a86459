"""The platform is told what to show, and not asked to repeat it."""

from typing import Any

import aiohttp
import discord
import pytest
from aiohttp import web
from aiohttp.test_utils import TestServer
from discord.webhook.async_ import interaction_message_response_params

from bot.interactions.send_answer import CallbackAdapter


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
