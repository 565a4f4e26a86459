"""Who may do what where, by the platform's order of overwrites (fact sheet, section 7)."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from deploy.rehearsal.world import Person, Room, World

ADMINISTRATOR = 1 << 3
MANAGE_CHANNELS = 1 << 4
MANAGE_GUILD = 1 << 5
VIEW_CHANNEL = 1 << 10
SEND_MESSAGES = 1 << 11
MANAGE_MESSAGES = 1 << 13
EMBED_LINKS = 1 << 14
ATTACH_FILES = 1 << 15
READ_MESSAGE_HISTORY = 1 << 16
MENTION_EVERYONE = 1 << 17
MANAGE_ROLES = 1 << 28
USE_APPLICATION_COMMANDS = 1 << 31
MANAGE_THREADS = 1 << 34
CREATE_PRIVATE_THREADS = 1 << 36
SEND_MESSAGES_IN_THREADS = 1 << 38
PIN_MESSAGES = 1 << 51
EVERYTHING = (1 << 53) - 1

BOT_PERMISSIONS = 2_252_143_411_186_688
"""The minimal invite of the fact sheet, section 7."""

STUDENT_PERMISSIONS = (
    VIEW_CHANNEL
    | SEND_MESSAGES
    | EMBED_LINKS
    | ATTACH_FILES
    | READ_MESSAGE_HISTORY
    | USE_APPLICATION_COMMANDS
    | SEND_MESSAGES_IN_THREADS
)

DIRECT_PERMISSIONS = (
    VIEW_CHANNEL
    | SEND_MESSAGES
    | EMBED_LINKS
    | ATTACH_FILES
    | READ_MESSAGE_HISTORY
    | MENTION_EVERYONE
    | USE_APPLICATION_COMMANDS
    | PIN_MESSAGES
)
"""What the bot may do in a direct conversation (fact sheet, section 11, "Embeds in DMs")."""


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
    if not room.is_thread and room.id in world.rooms and not _is_guild_room(room):
        return DIRECT_PERMISSIONS if person.id in room.members else 0
    channel = world.rooms[room.parent_id] if room.is_thread and room.parent_id else room
    bits = guild_permissions(world, person)
    if bits == EVERYTHING or not person.in_guild:
        return bits
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
    return not _is_private_thread(room) or person.id in room.members or bool(bits & MANAGE_THREADS)


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


def _is_private_thread(room: Room) -> bool:
    return room.kind == 12
