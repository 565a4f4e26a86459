"""Messages as the platform writes them on the wire."""

from __future__ import annotations

from deploy.rehearsal.wire.guild_objects import member_shape, user_shape
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.components import response_shape
from deploy.rehearsal.world.content_server import ContentServer
from deploy.rehearsal.world.state import File, Message, World
from deploy.rehearsal.world.virtual_time import wire


class MessageShapes:
    """Writes messages; file addresses in them are signed afresh each time."""

    def __init__(self, world: World, content: ContentServer) -> None:
        self._world = world
        self._content = content

    def message(self, message: Message, *, with_reference: bool = True) -> Json:
        """Return a whole message."""
        shape: Json = {
            "id": str(message.id),
            "type": message.kind,
            "channel_id": str(message.room_id),
            "author": user_shape(self._world.people[message.author_id]),
            "content": message.content,
            "timestamp": wire(message.created),
            "edited_timestamp": wire(message.edited) if message.edited else None,
            "tts": False,
            "mention_everyone": message.mention_everyone,
            "mentions": [user_shape(self._world.people[person]) for person in message.mentions],
            "mention_roles": [str(role) for role in message.mention_roles],
            "attachments": [self._content.shape(file) for file in message.files],
            "embeds": [],
            "pinned": message.pinned,
            "flags": message.flags,
            "components": response_shape(message.components),
        }
        if message.nonce is not None:
            shape["nonce"] = message.nonce
        if message.application_id is not None:
            shape["application_id"] = str(message.application_id)
            shape["webhook_id"] = str(message.application_id)
        if message.interaction is not None:
            shape["interaction_metadata"] = message.interaction
        if message.reply_to is not None and with_reference:
            shape |= self._reference(message)
        return shape

    def file(self, file: File) -> Json:
        """Return an attachment."""
        return self._content.shape(file)

    def event(self, message: Message, *, content_allowed: bool) -> Json:
        """Return a message as a gateway event carries it; withheld content is empty."""
        shape = self.message(message)
        room = self._world.rooms[message.room_id]
        if room.kind != 1 and message.only_for is None:
            author = self._world.people[message.author_id]
            shape["guild_id"] = str(self._world.guild_id)
            shape["member"] = member_shape(author, with_user=False)
        if not content_allowed:
            shape |= {"content": "", "attachments": [], "components": []}
        return shape

    def _reference(self, message: Message) -> Json:
        target = self._world.rooms[message.room_id].messages.get(message.reply_to or 0)
        reference: Json = {
            "message_reference": {
                "type": 0,
                "channel_id": str(message.room_id),
                "message_id": str(message.reply_to),
                "guild_id": str(self._world.guild_id),
            }
        }
        if message.kind == 19:
            gone = target is None or target.deleted
            reference["referenced_message"] = (
                None if target is None or gone else self.message(target, with_reference=False)
            )
        return reference
