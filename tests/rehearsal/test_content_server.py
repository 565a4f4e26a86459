"""Files where the content server keeps them."""

from __future__ import annotations

from datetime import timedelta

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import WireBot, upload


async def test_a_file_can_be_fetched_for_a_day(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    body = upload({"attachments": [{"id": 0, "filename": "a.txt"}]}, b"content")
    url = (await bot.call("POST", sign_up, data=body)).body["attachments"][0]["url"]
    async with bot.session.get(url) as fetched:
        assert (fetched.status, await fetched.read()) == (200, b"content")
    async with bot.session.get(url.replace("hm=", "hm=0")) as forged:
        assert forged.status == 404
    await server.clock.step_to(server.clock.now + timedelta(hours=25))
    async with bot.session.get(url) as late:
        assert late.status == 404
    assert Phone(server, "Ada Quill").download(Phone(server, "Ada Quill").see("sign-up")[0].files[0]) == b"content"
