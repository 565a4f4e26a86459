"""What can wait until the bot has its answer is done after it, and in its order."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from aiohttp import web

from deploy.rehearsal.server import rest_api
from deploy.rehearsal.server.afterwards import Afterwards
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.transcript import Transcript
from deploy.rehearsal.world.state import Message
from tests.rehearsal.wire import WireBot


def test_work_is_done_at_once_and_held_work_in_its_order_when_it_is_released() -> None:
    done: list[int] = []
    afterwards = Afterwards()

    def work(number: int) -> Callable[[], None]:
        return lambda: done.append(number)

    afterwards.do(work(1))
    afterwards.hold()
    afterwards.do(work(2))
    afterwards.do(work(3))
    assert done == [1]
    afterwards.hold()
    assert done == [1, 2, 3], "nothing is kept from one request to another"
    afterwards.release()
    afterwards.release()
    afterwards.do(work(4))
    assert done == [1, 2, 3, 4]


@pytest.mark.parametrize(("sent_at_once", "order"), [(rest_api.SENT_AT_ONCE, ["sent", "told"]), (10, ["told", "sent"])])
async def test_a_short_answer_is_sent_before_its_message_is_written_down_and_a_long_one_after_it(
    server: ClassServer, monkeypatch: pytest.MonkeyPatch, sent_at_once: int, order: list[str]
) -> None:
    happened: list[str] = []
    send, tell = web.Response.write_eof, Transcript.message

    async def sent(response: web.Response, data: bytes = b"") -> None:
        happened.append("sent")
        await send(response, data)

    def told(transcript: Transcript, message: Message, kind: str) -> None:
        happened.append("told")
        tell(transcript, message, kind)

    monkeypatch.setattr(rest_api, "SENT_AT_ONCE", sent_at_once)
    async with WireBot(server) as bot:
        monkeypatch.setattr(web.Response, "write_eof", sent)
        monkeypatch.setattr(Transcript, "message", told)
        answer = await bot.call("POST", f"/channels/{server.world.room('news').id}/messages", {"content": "Hello"})
    assert answer.status == 200
    assert [what for number, what in enumerate(happened) if what not in happened[:number]] == order
    assert [entry.body for entry in server.transcript.entries] == [{"blocks": [{"text": "Hello"}]}]
