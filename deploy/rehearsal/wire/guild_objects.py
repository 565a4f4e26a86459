"""People, roles, rooms and the guild as the platform writes them on the wire."""

from __future__ import annotations

from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.permissions import permissions_in
from deploy.rehearsal.world.state import DIRECT, TEXT, Person, Role, Room, World
from deploy.rehearsal.world.virtual_time import wire

ATTACHMENT_LIMIT = 10 * 1024 * 1024
"""Bytes a person may upload in one file by default."""


def user_shape(person: Person) -> Json:
    """Return a user; discriminator "0" and the keys that clients insist on."""
    shape: Json = {
        "id": str(person.id),
        "username": person.username,
        "global_name": None if person.bot else person.name,
        "discriminator": "0",
        "avatar": None,
        "avatar_decoration_data": None,
        "collectibles": None,
        "primary_guild": None,
        "public_flags": 0,
        "flags": 0,
    }
    if person.bot:
        shape["bot"] = True
    return shape


def own_user_shape(person: Person) -> Json:
    """Return the bot's view of itself, as `GET /users/@me` and READY carry it."""
    return user_shape(person) | {
        "mfa_enabled": False,
        "locale": "en-US",
        "verified": True,
        "email": None,
        "premium_type": 0,
    }


def member_shape(person: Person, *, with_user: bool = True) -> Json:
    """Return a guild member; partial members (in messages, resolved data) come without the user."""
    shape: Json = {
        "avatar": None,
        "banner": None,
        "communication_disabled_until": None,
        "flags": 0,
        "joined_at": wire(person.joined),
        "nick": None,
        "pending": False,
        "premium_since": None,
        "roles": [str(role) for role in person.roles],
        "mute": False,
        "deaf": False,
    }
    if with_user:
        shape["user"] = user_shape(person)
    return shape


def acting_member_shape(world: World, person: Person, room: Room) -> Json:
    """Return the member of an interaction, with the permissions computed for that room."""
    return member_shape(person) | {"permissions": str(permissions_in(world, person, room))}


def role_shape(role: Role, bot_id: int) -> Json:
    """Return a role; a managed one is tagged as the bot's own."""
    shape: Json = {
        "id": str(role.id),
        "name": role.name,
        "permissions": str(role.permissions),
        "position": role.position,
        "color": 0,
        "colors": {"primary_color": 0, "secondary_color": None, "tertiary_color": None},
        "hoist": False,
        "managed": role.managed,
        "mentionable": role.mentionable,
        "icon": None,
        "unicode_emoji": None,
        "flags": 0,
    }
    if role.managed:
        shape["tags"] = {"bot_id": str(bot_id)}
    return shape


def room_shape(world: World, room: Room) -> Json:
    """Return a text channel, a thread or a direct conversation."""
    if room.kind == DIRECT:
        others = [world.people[person] for person in room.members if person != world.bot.id]
        return _common(room) | {"recipients": [user_shape(person) for person in others]}
    shape = _common(room) | {
        "guild_id": str(world.guild_id),
        "name": room.name,
        "parent_id": str(room.parent_id) if room.parent_id else None,
        "rate_limit_per_user": room.slowmode,
    }
    if room.kind == TEXT:
        overwrites = [
            {"id": str(o.target), "type": int(o.for_person), "allow": str(o.allow), "deny": str(o.deny)}
            for o in room.overwrites
        ]
        return shape | {
            "position": room.position,
            "topic": None,
            "nsfw": False,
            "permission_overwrites": overwrites,
            "default_auto_archive_duration": 1440,
        }
    return shape | _thread_part(world, room)


def _common(room: Room) -> Json:
    last = next(reversed(room.messages), None)
    pinned = max(room.pins.values(), default=None)
    return {
        "id": str(room.id),
        "type": room.kind,
        "flags": 0,
        "last_message_id": str(last) if last else None,
        "last_pin_timestamp": wire(pinned) if pinned else None,
    }


def _thread_part(world: World, room: Room) -> Json:
    sent = len(room.messages)
    shape: Json = {
        "owner_id": str(room.owner_id),
        "message_count": sum(not message.deleted for message in room.messages.values()),
        "total_message_sent": sent,
        "member_count": min(len(room.members), 50),
        "thread_metadata": {
            "archived": room.archived(world.now),
            "archive_timestamp": wire(room.last_active or room.created),
            "auto_archive_duration": room.archive_minutes,
            "locked": room.locked,
            "create_timestamp": wire(room.created),
        },
    }
    if room.kind == 12:
        shape["thread_metadata"]["invitable"] = room.invitable
    if world.bot.id in room.members:
        shape["member"] = thread_member_shape(room, world.bot.id)
    return shape


def thread_member_shape(room: Room, person_id: int) -> Json:
    """Return one person's membership of a thread."""
    return {
        "id": str(room.id),
        "user_id": str(person_id),
        "join_timestamp": wire(room.members[person_id]),
        "flags": 0,
    }


def partial_room_shape(world: World, person: Person, room: Room) -> Json:
    """Return the channel that rides on an interaction, with the person's permissions in it."""
    return room_shape(world, room) | {"permissions": str(permissions_in(world, person, room))}


def guild_shape(world: World) -> Json:
    """Return the guild without channels and members."""
    return {
        "id": str(world.guild_id),
        "name": world.name,
        "icon": None,
        "description": None,
        "home_header": None,
        "splash": None,
        "discovery_splash": None,
        "features": [],
        "banner": None,
        "owner_id": str(world.owner_id),
        "application_id": None,
        "region": "deprecated",
        "afk_channel_id": None,
        "afk_timeout": 300,
        "system_channel_id": None,
        "system_channel_flags": 0,
        "widget_enabled": False,
        "widget_channel_id": None,
        "verification_level": 0,
        "roles": [role_shape(role, world.bot.id) for role in world.roles.values()],
        "default_message_notifications": 1,
        "mfa_level": 0,
        "explicit_content_filter": 0,
        "max_presences": None,
        "max_members": 500000,
        "max_stage_video_channel_users": 50,
        "max_video_channel_users": 25,
        "vanity_url_code": None,
        "premium_tier": 0,
        "premium_subscription_count": 0,
        "preferred_locale": "en-GB",
        "rules_channel_id": None,
        "safety_alerts_channel_id": None,
        "public_updates_channel_id": None,
        "premium_progress_bar_enabled": False,
        "nsfw": False,
        "nsfw_level": 0,
        "emojis": [],
        "stickers": [],
        "incidents_data": None,
    }


def guild_create_shape(world: World) -> Json:
    """Return GUILD_CREATE: all channels and the threads the bot is in, but only the bot's own member."""
    rooms = [room for room in world.rooms.values() if room.kind != DIRECT]
    threads = [room for room in rooms if room.is_thread and not room.archived(world.now)]
    return guild_shape(world) | {
        "joined_at": wire(world.bot.joined),
        "large": False,
        "unavailable": False,
        "member_count": sum(person.in_guild for person in world.people.values()),
        "voice_states": [],
        "members": [member_shape(world.bot)],
        "channels": [room_shape(world, room) for room in rooms if not room.is_thread],
        "threads": [room_shape(world, room) for room in threads if world.bot.id in room.members],
        "presences": [],
        "stage_instances": [],
        "guild_scheduled_events": [],
        "soundboard_sounds": [],
    }


def application_shape(world: World) -> Json:
    """Return the application, as the bot asks for it at login."""
    owner = world.people[world.owner_id]
    return {
        "id": str(world.application_id),
        "name": world.bot.name,
        "icon": None,
        "description": "",
        "type": None,
        "bot": user_shape(world.bot),
        "bot_public": False,
        "bot_require_code_grant": False,
        "verify_key": "0" * 64,
        "flags": 0,
        "flags_new": "0",
        "redirect_uris": [],
        "interactions_endpoint_url": None,
        "role_connections_verification_url": None,
        "owner": user_shape(owner),
        "approximate_guild_count": 1,
        "approximate_user_install_count": 0,
        "approximate_user_authorization_count": 0,
        "explicit_content_filter": 0,
        "team": None,
        "eligible_oauth2_scopes": ["applications.commands", "bot"],
    }
