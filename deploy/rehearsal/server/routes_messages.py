"""Routes about messages and pins, by the public API's message reference."""

from __future__ import annotations

from datetime import datetime, timedelta

from deploy.rehearsal.limits.field_checks import flags_of, whole_number
from deploy.rehearsal.limits.message_limits import check_message
from deploy.rehearsal.server.message_publisher import Publisher
from deploy.rehearsal.server.rest_api import Answer, Call, Table
from deploy.rehearsal.world.api_errors import Json, Refused
from deploy.rehearsal.world.permission_bits import (
    ATTACH_FILES,
    MANAGE_MESSAGES,
    PIN_MESSAGES,
    READ_MESSAGE_HISTORY,
    SEND_MESSAGES,
    SEND_MESSAGES_IN_THREADS,
)
from deploy.rehearsal.world.permissions import need, permissions_in, visible_room
from deploy.rehearsal.world.state import DIRECT, Message, Room, World
from deploy.rehearsal.world.virtual_time import wire

POSTABLE_FLAGS = 1 << 2 | 1 << 12 | 1 << 13
NONCE_MEMORY_S = 300.0
"""Virtual seconds in which a repeated nonce returns the old message."""


class MessageRoutes:
    """Serves messages in rooms; private answers cannot be reached here."""

    def __init__(self, world: World, publisher: Publisher, *, nonce_memory_s: float) -> None:
        self._world = world
        self._publisher = publisher
        self.nonce_memory = timedelta(seconds=nonce_memory_s)
        """Virtual time in which a repeated nonce returns the old message; the platform promises no length."""
        self.history_tells_nonces = True
        """Whether the history of a room gives nonces back, which the platform leaves open."""
        self._nonces: dict[tuple[int, str], tuple[datetime, Message]] = {}

    def table(self) -> Table:
        """Return the routes."""
        messages = "/channels/{channel_id}/messages"
        return {
            f"POST {messages}": self._post,
            f"GET {messages}": self._history,
            f"GET {messages}/pins": self._pins,
            f"PUT {messages}/pins/{{message_id}}": self._pin,
            f"DELETE {messages}/pins/{{message_id}}": self._unpin,
            f"GET {messages}/{{message_id}}": self._get,
            f"PATCH {messages}/{{message_id}}": self._edit,
            f"DELETE {messages}/{{message_id}}": self._delete,
        }

    def _room(self, call: Call) -> Room:
        return visible_room(self._world, call.number("channel_id"))

    def _message(self, call: Call, room: Room) -> Message:
        message = room.messages.get(call.number("message_id"))
        if message is None or message.deleted or message.only_for is not None:
            raise Refused(10008)
        return message

    def _post(self, call: Call) -> Answer:
        room, body = self._room(call), call.body.json
        self._may_post(room, body, bool(call.body.uploads))
        flags = flags_of(body)
        check_message(body, call.body.uploads, flags=flags)
        reference = body.get("message_reference") or {}
        if reference and whole_number(reference.get("message_id"), ("message_reference",)) not in room.messages:
            raise Refused(
                50035, errors={"message_reference": {"_errors": [_error("MESSAGE_REFERENCE_UNKNOWN_MESSAGE")]}}
            )
        key = (room.id, str(body.get("nonce")))
        if body.get("enforce_nonce") and body.get("nonce") is not None and key in self._nonces:
            when, old = self._nonces[key]
            if self._world.now - when <= self.nonce_memory and not old.deleted:
                return Answer(200, self._publisher.wire(old))
        message = self._publisher.create(room, self._world.bot, body, call.body.uploads, flags=flags & POSTABLE_FLAGS)
        if body.get("nonce") is not None:
            self._nonces[key] = (self._world.now, message)
        return Answer(200, self._publisher.wire(message))

    def _may_post(self, room: Room, body: Json, has_files: bool) -> None:
        if room.kind == DIRECT:
            self._may_post_directly(room)
            return
        need(self._world, room, SEND_MESSAGES_IN_THREADS if room.is_thread else SEND_MESSAGES)
        if room.locked:
            raise Refused(160005)
        if has_files:
            need(self._world, room, ATTACH_FILES)
        if body.get("message_reference"):
            need(self._world, room, READ_MESSAGE_HISTORY)

    def _may_post_directly(self, room: Room) -> None:
        person = next(self._world.people[p] for p in room.members if p != self._world.bot.id)
        if not person.in_guild:
            raise Refused(50278)
        if not person.dms_open:
            raise Refused(50007)

    def _history(self, call: Call) -> Answer:
        room = self._room(call)
        if not permissions_in(self._world, self._world.bot, room) & READ_MESSAGE_HISTORY:
            return Answer(200, [])
        limit = min(max(call.asked("limit", 50), 1), 100)
        found = [m for m in room.messages.values() if not m.deleted and m.only_for is None]
        found.sort(key=lambda message: message.id, reverse=True)
        if "before" in call.query:
            found = [message for message in found if message.id < call.asked("before", 0)]
        if "after" in call.query:
            found = [message for message in found if message.id > call.asked("after", 0)][-limit:]
        if "around" in call.query:
            middle = call.asked("around", 0)
            found = sorted(found, key=lambda m: abs(m.id - middle))[:limit]
            found.sort(key=lambda message: message.id, reverse=True)
        shapes = [self._publisher.wire(message) for message in found[:limit]]
        if not self.history_tells_nonces:
            shapes = [{key: value for key, value in shape.items() if key != "nonce"} for shape in shapes]
        return Answer(200, shapes)

    def _get(self, call: Call) -> Answer:
        room = self._room(call)
        need(self._world, room, READ_MESSAGE_HISTORY)
        return Answer(200, self._publisher.wire(self._message(call, room)))

    def _edit(self, call: Call) -> Answer:
        room = self._room(call)
        message = self._message(call, room)
        if message.author_id != self._world.bot.id:
            raise Refused(50005)
        if message.kind not in (0, 19, 20, 23):
            raise Refused(50021)
        if room.archived(self._world.now):
            raise Refused(50083)
        body = call.body.json
        check_message(body, call.body.uploads, old=message, flags=message.flags)
        if call.body.uploads:
            need(self._world, room, ATTACH_FILES)
        self._publisher.edit(message, body, call.body.uploads)
        return Answer(200, self._publisher.wire(message))

    def _delete(self, call: Call) -> Answer:
        room = self._room(call)
        message = self._message(call, room)
        if message.author_id != self._world.bot.id:
            need(self._world, room, MANAGE_MESSAGES)
        if room.archived(self._world.now):
            raise Refused(50083)
        self._publisher.delete(message)
        return Answer(204)

    def _pins(self, call: Call) -> Answer:
        room = self._room(call)
        need(self._world, room, READ_MESSAGE_HISTORY)
        pins = sorted(room.pins.items(), key=lambda pin: pin[1], reverse=True)
        limit = min(max(call.asked("limit", 50), 1), 50)
        items = [
            {"pinned_at": wire(when), "message": self._publisher.wire(room.messages[message])}
            for message, when in pins[:limit]
        ]
        return Answer(200, {"items": items, "has_more": len(pins) > limit})

    def _pin(self, call: Call) -> Answer:
        room = self._room(call)
        need(self._world, room, PIN_MESSAGES)
        self._publisher.pin(self._message(call, room), self._world.bot)
        return Answer(204)

    def _unpin(self, call: Call) -> Answer:
        room = self._room(call)
        need(self._world, room, PIN_MESSAGES)
        self._publisher.unpin(self._message(call, room))
        return Answer(204)


def _error(code: str) -> Json:
    return {"code": code, "message": "Unknown message"}
