"""Putting messages into the world, changing, removing and pinning them; gateway and transcript are told."""

from __future__ import annotations

from dataclasses import dataclass

from deploy.rehearsal.limits.message_limits import OLD, OLD_EDITS, PIN_LIMIT
from deploy.rehearsal.server.afterwards import Afterwards
from deploy.rehearsal.server.gateway_sessions import DIRECT_MESSAGES, GUILD_MESSAGES, GUILDS, MESSAGE_CONTENT, Gateway
from deploy.rehearsal.server.transcript import Transcript
from deploy.rehearsal.wire.guild_objects import room_shape
from deploy.rehearsal.wire.mentions import resolve_mentions
from deploy.rehearsal.wire.message_objects import MessageShapes
from deploy.rehearsal.wire.request_bodies import Upload
from deploy.rehearsal.world.api_errors import Json, Refused
from deploy.rehearsal.world.components import numbered
from deploy.rehearsal.world.state import DIRECT, EPHEMERAL, LOADING, File, Message, Person, Room, World
from deploy.rehearsal.world.virtual_time import wire

KEPT_FLAGS = EPHEMERAL | LOADING


@dataclass(frozen=True)
class Origin:
    """Where a message comes from, when it does not come from a channel request: an interaction, and for whom."""

    interaction: Json | None = None
    application_id: int | None = None
    only_for: int | None = None
    kind: int = 0


class Publisher:
    """The only writer of messages."""

    def __init__(
        self,
        world: World,
        gateway: Gateway,
        shapes: MessageShapes,
        transcript: Transcript,
        afterwards: Afterwards,
        *,
        old_edits: int = OLD_EDITS,
    ) -> None:
        """`old_edits` is how many edits a message older than an hour takes before 30046."""
        self._world = world
        self._gateway = gateway
        self._shapes = shapes
        self._transcript = transcript
        self._afterwards = afterwards
        self._old_edits = old_edits

    def create(
        self,
        room: Room,
        author: Person,
        body: Json,
        uploads: list[Upload],
        *,
        flags: int = 0,
        origin: Origin | None = None,
    ) -> Message:
        """Post a message whose body was already measured."""
        origin = origin or Origin()
        reference = body.get("message_reference") or {}
        reply = int(reference["message_id"]) if reference.get("message_id") else None
        message = Message(
            self._world.snowflakes.next(),
            room.id,
            author.id,
            self._world.now,
            kind=19 if reply and not origin.kind else origin.kind,
            flags=flags,
            only_for=origin.only_for,
            nonce=body.get("nonce"),
            reply_to=reply,
            interaction=origin.interaction,
            application_id=origin.application_id,
            order=len(room.messages),
        )
        self._fill(message, body, uploads, from_interaction=origin.application_id is not None)
        room.messages[message.id] = message
        room.last_active = self._world.now
        if room.is_thread and room.put_away and not room.locked:
            room.put_away = False
        kind = "message" if origin.only_for is None else "answer"
        self._told_later("MESSAGE_CREATE", message, "" if flags & LOADING else kind)
        return message

    def edit(self, message: Message, body: Json, uploads: list[Upload]) -> Message:
        """Change a message; raises `Refused` (30046) when an old one was changed too often."""
        if self._world.now - message.created > OLD and message.only_for is None:
            if message.edits_when_old >= self._old_edits:
                raise Refused(30046)
            message.edits_when_old += 1
        was_loading = bool(message.flags & LOADING)
        message.flags &= ~LOADING
        if body.get("flags") is not None:
            message.flags = (message.flags & KEPT_FLAGS) | (body["flags"] & ~EPHEMERAL)
        self._fill(message, body, uploads, from_interaction=message.application_id is not None)
        if not was_loading:
            message.edited = self._world.now
        kinds = {(False, False): "edit", (False, True): "message", (True, False): "edit", (True, True): "answer"}
        self._told_later("MESSAGE_UPDATE", message, kinds[message.only_for is not None, was_loading])
        return message

    def delete(self, message: Message) -> None:
        """Remove a message; files and order of the room stay."""
        message.deleted = True
        room = self._world.rooms[message.room_id]
        room.pins.pop(message.id, None)
        data: Json = {"id": str(message.id), "channel_id": str(message.room_id)}
        if room.kind != DIRECT:
            data["guild_id"] = str(self._world.guild_id)
        intent = DIRECT_MESSAGES if room.kind == DIRECT or message.only_for else GUILD_MESSAGES
        self._gateway.emit("MESSAGE_DELETE", data, intent=intent)
        if not message.flags & LOADING:
            self._transcript.message(message, "deleted")

    def pin(self, message: Message, who: Person) -> None:
        """Pin a message, which posts a notice of type 6; raises `Refused` (30003) beyond 250."""
        room = self._world.rooms[message.room_id]
        if message.id in room.pins:
            return
        if len(room.pins) >= PIN_LIMIT:
            raise Refused(30003)
        room.pins[message.id] = self._world.now
        message.pinned = True
        self._pins_changed(room)
        self._transcript.message(message, "pin")
        notice = Message(self._world.snowflakes.next(), room.id, who.id, self._world.now, kind=6)
        notice.reply_to, notice.order = message.id, len(room.messages)
        room.messages[notice.id] = notice
        self._tell("MESSAGE_CREATE", notice)

    def unpin(self, message: Message) -> None:
        """Take a pin away."""
        room = self._world.rooms[message.room_id]
        room.pins.pop(message.id, None)
        message.pinned = False
        self._pins_changed(room)

    def room_event(self, name: str, room: Room) -> None:
        """Tell the gateway of a channel or thread; private threads only concern those who can see them."""
        self._gateway.emit(name, room_shape(self._world, room), intent=GUILDS)

    def event(self, name: str, data: Json, intent: int) -> None:
        """Tell the gateway something that is not a message."""
        self._gateway.emit(name, data, intent=intent)

    def wire(self, message: Message) -> Json:
        """Return the message as REST answers carry it."""
        return self._shapes.message(message)

    def _fill(self, message: Message, body: Json, uploads: list[Upload], *, from_interaction: bool) -> None:
        if "content" in body:
            message.content = body["content"] or ""
        if "components" in body:
            message.components = numbered(body["components"] or [])
        self._fill_files(message, body, uploads)
        resolve_mentions(self._world, message, body.get("allowed_mentions"), from_interaction=from_interaction)

    def _fill_files(self, message: Message, body: Json, uploads: list[Upload]) -> None:
        """Keep the files the body names (all, if it names none at all) and add the uploaded ones."""
        described = {str(entry["id"]): entry for entry in body.get("attachments") or []}
        if "attachments" in body:
            message.files = [file for file in message.files if str(file.id) in described]
            for file in message.files:
                if "description" in described[str(file.id)]:
                    file.description = described[str(file.id)]["description"]
        for upload in uploads:
            entry = described.get(upload.key, {})
            file = File(
                self._world.snowflakes.next(),
                entry.get("filename") or upload.filename,
                upload.data,
                upload.content_type,
                message.room_id,
                self._world.now,
                description=entry.get("description"),
                ephemeral=message.only_for is not None,
            )
            self._world.files[file.id] = file
            message.files.append(file)

    def _told_later(self, name: str, message: Message, kind: str) -> None:
        """Tell the gateway, and the transcript where it is of this `kind`, once the bot has its answer."""

        def tell() -> None:
            self._tell(name, message)
            if kind:
                self._transcript.message(message, kind)

        self._afterwards.do(tell)

    def _tell(self, name: str, message: Message) -> None:
        """Send the message event to who may hear it; who may read its content the content intent decides."""
        direct = self._world.rooms[message.room_id].kind == DIRECT or message.only_for is not None
        own = message.author_id == self._world.bot.id or self._world.bot.id in message.mentions
        intent = DIRECT_MESSAGES if direct else GUILD_MESSAGES
        for session in self._gateway.listeners(intent):
            readable = direct or own or bool(session.intents & MESSAGE_CONTENT)
            self._gateway.dispatch(session, name, self._shapes.event(message, content_allowed=readable))

    def _pins_changed(self, room: Room) -> None:
        last = max(room.pins.values(), default=None)
        data: Json = {"channel_id": str(room.id), "last_pin_timestamp": wire(last) if last else None}
        if room.kind != DIRECT:
            data["guild_id"] = str(self._world.guild_id)
        self._gateway.emit("CHANNEL_PINS_UPDATE", data, intent=GUILDS)
