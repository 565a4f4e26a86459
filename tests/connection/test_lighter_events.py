"""Of a message whose button was pressed, only what is read is made an object of."""

from typing import Any

import discord

from bot.connection.chat_client import ChatClient
from bot.connection.outage_log import Outage

PRESSED = {
    "id": "78", "type": 0, "flags": 64, "content": "Mud Larks", "channel_id": "50", "timestamp": "",
    "author": {"id": "9", "username": "tenbell", "discriminator": "0", "avatar": None, "bot": True},
    "components": [{"type": 1, "components": [{"type": 2, "style": 1, "label": "Join", "custom_id": "squad.join:1"}]}],
}  # fmt: skip
EVENT = {
    "id": "77", "application_id": "9", "type": 3, "token": "a-token", "version": 1, "attachment_size_limit": 0,
    "data": {"custom_id": "squad.join:1", "component_type": 2}, "channel": {"id": "50", "type": 1}, "message": PRESSED,
    "user": {"id": "5", "username": "ida", "discriminator": "0", "avatar": None},
}  # fmt: skip


class Signs:
    def heard(self) -> None:
        """The platform sent something."""


async def test_a_press_comes_with_what_is_read_of_its_message_and_the_event_is_left_as_it_came() -> None:
    store: Any = None
    signs: Any = Signs()
    heard: list[discord.Interaction] = []
    async with ChatClient(store, signs, Outage("the platform")) as client:
        client._connection.dispatch = lambda name, *args: heard.extend(args)
        client._connection.parsers["INTERACTION_CREATE"](EVENT)
        client._connection.parsers["INTERACTION_CREATE"]({key: EVENT[key] for key in EVENT if key != "message"})
    with_message, without = heard
    pressed = with_message.message
    assert pressed is not None and pressed.id == 78 and pressed.flags.ephemeral
    assert not hasattr(pressed, "author")
    assert without.message is None
    assert EVENT["message"] is PRESSED and "components" in PRESSED
