"""Which names in a text ring."""

from __future__ import annotations

from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import WireBot


async def test_a_mention_rings_only_where_it_was_allowed(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    ada = server.world.person("Ada Quill")
    text = {"content": f"<@{ada.id}> come"}
    await bot.call("POST", sign_up, text | {"allowed_mentions": {"parse": []}})
    await bot.call("POST", sign_up, text | {"allowed_mentions": {"users": [str(ada.id)]}})
    await bot.call("POST", sign_up, text)
    await bot.call("POST", sign_up, {"content": "@everyone come"})
    shown = Phone(server, ada).see("sign-up")
    assert [message.pinged for message in shown] == [False, True, True, False]
    assert shown[0].text == "@Ada Quill come"
    assert not Phone(server, "Ben Marrow").see("sign-up")[1].pinged
