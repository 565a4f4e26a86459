"""Who may do what where, by the platform's published order of overwrites; and where "you may not" becomes an error."""

from __future__ import annotations

from deploy.rehearsal.world.api_errors import Refused
from deploy.rehearsal.world.permission_bits import (
    ADMINISTRATOR,
    ATTACH_FILES,
    DIRECT_PERMISSIONS,
    EMBED_LINKS,
    EVERYTHING,
    MANAGE_THREADS,
    MENTION_EVERYONE,
    SEND_MESSAGES,
    SEND_MESSAGES_IN_THREADS,
    VIEW_CHANNEL,
)
from deploy.rehearsal.world.state import Person, Room, World


def guild_permissions(world: World, person: Person) -> int:
    """Return the permissions `person` has before any channel's overwrites."""
    if not person.in_guild:
        return 0
    if person.id == world.owner_id:
        return EVERYTHING
    bits = world.roles[world.guild_id].permissions
    for role_id in person.roles:
        if role_id in world.roles:
            bits |= world.roles[role_id].permissions
    return EVERYTHING if bits & ADMINISTRATOR else bits


def permissions_in(world: World, person: Person, room: Room) -> int:
    """Return the permissions `person` has in `room`; a thread takes those of its channel."""
    if not _is_guild_room(room) and room.id in world.rooms:
        return DIRECT_PERMISSIONS if person.id in room.members else 0
    channel = world.rooms[room.parent_id] if room.is_thread and room.parent_id else room
    bits = guild_permissions(world, person)
    if bits == EVERYTHING or not person.in_guild:
        return bits
    if channel.overwrites:
        bits = _with_overwrites(world, person, channel, bits)
    if not bits & VIEW_CHANNEL:
        return 0
    may_speak = SEND_MESSAGES_IN_THREADS if room.is_thread else SEND_MESSAGES
    if not bits & may_speak:
        bits &= ~(MENTION_EVERYONE | ATTACH_FILES | EMBED_LINKS)
    return bits


def can_see(world: World, person: Person, room: Room) -> bool:
    """Whether `person` has this room on the phone at all."""
    if not _is_guild_room(room):
        return person.id in room.members
    bits = permissions_in(world, person, room)
    if not bits & VIEW_CHANNEL:
        return False
    return not room.is_thread or person.id in room.members or bool(bits & MANAGE_THREADS)


def _with_overwrites(world: World, person: Person, channel: Room, bits: int) -> int:
    everyone = [o for o in channel.overwrites if o.target == world.guild_id]
    by_role = [o for o in channel.overwrites if not o.for_person and o.target in person.roles]
    own = [o for o in channel.overwrites if o.for_person and o.target == person.id]
    for group in (everyone, by_role, own):
        for overwrite in group:
            bits &= ~overwrite.deny
        for overwrite in group:
            bits |= overwrite.allow
    return bits


def _is_guild_room(room: Room) -> bool:
    return room.kind != 1


def visible_room(world: World, room_id: int) -> Room:
    """Return a room the bot can see; raises `Refused` 10003 (not there) or 50001 (not for the bot)."""
    room = world.rooms.get(room_id)
    if room is None:
        raise Refused(10003)
    if not can_see(world, world.bot, room):
        raise Refused(50001)
    return room


def need(world: World, room: Room, *permissions: int) -> None:
    """Raise `Refused` (50013) unless the bot has all these permissions in `room`."""
    have = permissions_in(world, world.bot, room)
    if any(not have & permission for permission in permissions):
        raise Refused(50013)
