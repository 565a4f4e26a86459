"""Routes about rooms: channels, threads and their members, direct conversations."""

from __future__ import annotations

from deploy.rehearsal.limits.field_checks import FieldChecks
from deploy.rehearsal.server.gateway_sessions import GUILDS
from deploy.rehearsal.server.message_publisher import Publisher
from deploy.rehearsal.server.rest_api import Answer, Call, Table
from deploy.rehearsal.wire.guild_objects import room_shape, thread_member_shape
from deploy.rehearsal.world.api_errors import Json, Refused
from deploy.rehearsal.world.permission_bits import (
    CREATE_PRIVATE_THREADS,
    MANAGE_CHANNELS,
    MANAGE_THREADS,
    SEND_MESSAGES_IN_THREADS,
    VIEW_CHANNEL,
)
from deploy.rehearsal.world.permissions import can_see, need, permissions_in, visible_room
from deploy.rehearsal.world.state import PRIVATE_THREAD, TEXT, Room, World

ARCHIVE_TIMES = (60, 1440, 4320, 10080)
THREAD_MEMBERS = 1000


class RoomRoutes:
    """Serves channels and threads."""

    def __init__(self, world: World, publisher: Publisher) -> None:
        self._world = world
        self._publisher = publisher

    def table(self) -> Table:
        """Return the routes."""
        member = "/channels/{channel_id}/thread-members/{user_id}"
        return {
            "POST /users/@me/channels": self._open_direct,
            "GET /channels/{channel_id}": self._get,
            "PATCH /channels/{channel_id}": self._change,
            "DELETE /channels/{channel_id}": self._delete,
            "POST /channels/{channel_id}/typing": self._typing,
            "POST /channels/{channel_id}/threads": self._open_thread,
            "GET /guilds/{guild_id}/threads/active": self._active_threads,
            "GET /channels/{channel_id}/thread-members": self._members,
            "PUT /channels/{channel_id}/thread-members/@me": self._join,
            f"GET {member}": self._member,
            f"PUT {member}": self._add_member,
            f"DELETE {member}": self._remove_member,
        }

    def _room(self, call: Call) -> Room:
        return visible_room(self._world, call.number("channel_id"))

    def _shape(self, room: Room) -> Json:
        return room_shape(self._world, room)

    def _open_direct(self, call: Call) -> Answer:
        recipient = str(call.body.json.get("recipient_id"))
        person = self._world.people.get(int(recipient)) if recipient.isdigit() else None
        if person is None or person.bot:
            raise Refused(50033)
        return Answer(200, self._shape(self._world.direct_room(person)))

    def _get(self, call: Call) -> Answer:
        return Answer(200, self._shape(self._room(call)))

    def _typing(self, call: Call) -> Answer:
        self._room(call)
        return Answer(204)

    def _change(self, call: Call) -> Answer:
        room, body = self._room(call), call.body.json
        checks = FieldChecks()
        checks.text(body, "name", (), least=1, most=100)
        checks.one_of(body, "auto_archive_duration", (), ARCHIVE_TIMES)
        checks.number(body, "rate_limit_per_user", (), least=0, most=21600)
        checks.raise_problems()
        if not room.is_thread:
            need(self._world, room, MANAGE_CHANNELS)
            room.name = body.get("name") or room.name
            self._publisher.room_event("CHANNEL_UPDATE", room)
            return Answer(200, self._shape(room))
        self._change_thread(room, body)
        self._publisher.room_event("THREAD_UPDATE", room)
        return Answer(200, self._shape(room))

    def _change_thread(self, room: Room, body: Json) -> None:
        manager = bool(permissions_in(self._world, self._world.bot, room) & MANAGE_THREADS)
        owner = room.owner_id == self._world.bot.id
        if not (manager or owner) or ("locked" in body and not manager):
            raise Refused(50013)
        if room.locked and not manager:
            raise Refused(160005)
        revives = body.get("archived") is False
        if room.archived(self._world.now) and not revives:
            raise Refused(50083)
        if "archived" in body:
            room.put_away = bool(body["archived"])
            room.last_active = self._world.now
        room.locked = bool(body.get("locked", room.locked))
        room.name = body.get("name") or room.name
        room.archive_minutes = body.get("auto_archive_duration") or room.archive_minutes
        room.invitable = bool(body.get("invitable", room.invitable))
        room.slowmode = body.get("rate_limit_per_user", room.slowmode) or 0

    def _delete(self, call: Call) -> Answer:
        room = self._room(call)
        need(self._world, room, MANAGE_THREADS if room.is_thread else MANAGE_CHANNELS)
        shape = self._shape(room)
        del self._world.rooms[room.id]
        self._publisher.room_event("THREAD_DELETE" if room.is_thread else "CHANNEL_DELETE", room)
        return Answer(200, shape)

    def _open_thread(self, call: Call) -> Answer:
        """Open a private thread; public ones are not to be had here."""
        parent, body = self._room(call), call.body.json
        if parent.kind != TEXT:
            raise Refused(50024)
        need(self._world, parent, CREATE_PRIVATE_THREADS)
        checks = FieldChecks()
        checks.text(body, "name", (), least=1, most=100, required=True)
        checks.one_of(body, "auto_archive_duration", (), ARCHIVE_TIMES)
        checks.number(body, "rate_limit_per_user", (), least=0, most=21600)
        checks.one_of(body, "type", (), (PRIVATE_THREAD,), required=True)
        checks.raise_problems()
        room = self._world.add_thread(parent, self._world.bot, body["name"])
        room.archive_minutes = body.get("auto_archive_duration") or 1440
        room.invitable = body.get("invitable") is not False
        self._publisher.room_event("THREAD_CREATE", room)
        return Answer(201, self._shape(room))

    def _open(self, call: Call) -> Room:
        """Return a thread whose membership may be changed now."""
        room = self._room(call)
        if not room.is_thread:
            raise Refused(50024)
        if room.archived(self._world.now):
            raise Refused(50083)
        return room

    def _active_threads(self, call: Call) -> Answer:
        """Every thread that is not archived and that the bot can see, with the bot's own memberships."""
        if call.number("guild_id") != self._world.guild_id:
            raise Refused(10004)
        bot, now = self._world.bot, self._world.now
        rooms = [r for r in self._world.rooms.values() if r.is_thread and not r.archived(now)]
        seen = [room for room in rooms if can_see(self._world, bot, room)]
        members = [thread_member_shape(room, bot.id) for room in seen if bot.id in room.members]
        return Answer(200, {"threads": [self._shape(room) for room in seen], "members": members, "has_more": False})

    def _members(self, call: Call) -> Answer:
        room = self._room(call)
        return Answer(200, [thread_member_shape(room, person) for person in room.members])

    def _member(self, call: Call) -> Answer:
        room, person = self._room(call), call.number("user_id")
        if person not in room.members:
            raise Refused(10007)
        return Answer(200, thread_member_shape(room, person))

    def _join(self, call: Call) -> Answer:
        self._open(call).members.setdefault(self._world.bot.id, self._world.now)
        return Answer(204)

    def _add_member(self, call: Call) -> Answer:
        room = self._open(call)
        need(self._world, room, SEND_MESSAGES_IN_THREADS)
        person = self._world.people.get(call.number("user_id"))
        if person is None:
            raise Refused(10013)
        parent = self._world.rooms[room.parent_id or 0]
        if not person.in_guild or not permissions_in(self._world, person, parent) & VIEW_CHANNEL:
            raise Refused(50001)
        if len(room.members) >= THREAD_MEMBERS:
            raise Refused(30033)
        if person.id not in room.members:
            room.members[person.id] = self._world.now
            self._members_changed(room)
        return Answer(204)

    def _remove_member(self, call: Call) -> Answer:
        room = self._open(call)
        if room.owner_id != self._world.bot.id:
            need(self._world, room, MANAGE_THREADS)
        room.members.pop(call.number("user_id"), None)
        self._members_changed(room)
        return Answer(204)

    def _members_changed(self, room: Room) -> None:
        """Tell the count; without the members intent a bot only hears names when it concerns itself."""
        data = {
            "id": str(room.id),
            "guild_id": str(self._world.guild_id),
            "member_count": min(len(room.members), 50),
        }
        self._publisher.event("THREAD_MEMBERS_UPDATE", data, GUILDS)
