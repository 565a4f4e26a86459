"""What the bot may reach: the one place where "you may not" becomes 50001 or 50013."""

from __future__ import annotations

from deploy.rehearsal.world.api_errors import Refused
from deploy.rehearsal.world.permissions import can_see, permissions_in
from deploy.rehearsal.world.state import Room, World


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
