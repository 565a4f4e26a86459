"""Posting a message in a room, and changing it, with nothing made of what comes back but what is read of it.

The chat library's own way makes whole messages, with an object for each button, of what the platform repeats to us.
"""

from dataclasses import dataclass

import discord
from discord.http import handle_message_parameters

from bot.delivery.render import message_kwargs
from storage.records.message import Message


@dataclass(frozen=True)
class Posted:
    """A message as the platform says that it stands there."""

    id: int
    text: str


async def post(client: discord.Client, room_id: int, message: Message, nonce: str) -> Posted:
    """Post a message under a nonce.

    Raises:
        discord.HTTPException: the platform did not take it.
    """
    with handle_message_parameters(
        **message_kwargs(message), nonce=nonce, previous_allowed_mentions=client.allowed_mentions
    ) as params:
        sent = await client.http.send_message(room_id, params=params)
    return Posted(int(sent["id"]), sent["content"])


async def change(
    client: discord.Client, room_id: int, message_id: int, message: Message, *, keep_files: bool = False
) -> None:
    """Change a message of ours; files and buttons that it lacks are taken away, but for files that it is to keep.

    Raises:
        discord.HTTPException: the platform did not take it.
    """
    kwargs = message_kwargs(message, editing=True)
    if keep_files:
        # Files that are not named anew stay as they are.
        del kwargs["attachments"]
    with handle_message_parameters(**kwargs, previous_allowed_mentions=client.allowed_mentions) as params:
        await client.http.edit_message(room_id, message_id, params=params)
