"""Finding a message of our own that a crash kept us from noting."""

from datetime import datetime

import discord

from bot.delivery.room_opener import RoomOpener, request_timeout
from bot.rules.delivery.sending_limits import CLOCK_SLACK, LOOKED_THROUGH
from storage.store import Store
from storage.tables import outbox


async def find_own(
    opener: RoomOpener, store: Store, room_id: int, nonce: str, text: str, files: int | None, since: datetime
) -> int | None:
    """The message in a room that was posted under a nonce, or None.

    Where the platform does not give nonces back, it is the first message of ours with these words and as many files
    (None: however many) that is newer than the claim and belongs to no other outbox message or live message.
    """
    after = discord.Object(discord.utils.time_snowflake(since - CLOCK_SLACK))
    async with request_timeout():
        ours = [
            post
            async for post in opener.room(room_id).history(limit=LOOKED_THROUGH, after=after, oldest_first=True)
            if post.author.id == opener.me and post.type is discord.MessageType.default
        ]
    known = await store.look(lambda db: outbox.recorded(db, [post.id for post in ours]))
    for post in ours:
        same = post.content == text.strip() and files in (None, len(post.attachments))
        if post.id not in known and (same if post.nonce is None else str(post.nonce) == nonce):
            return post.id
    return None
