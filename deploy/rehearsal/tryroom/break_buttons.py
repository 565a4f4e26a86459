"""What whoever plays can break: the bot's power, the network, the disk, somebody's direct messages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.server.fault_kinds import DROPS, ERRORS, LIMITS, SLOW, TWICE
from deploy.rehearsal.world.state import Person

if TYPE_CHECKING:
    from deploy.rehearsal.tryroom.room import TryRoom

POWER, NETWORK, DISK, CLOSED = "power", "network", "disk", "closed"
NO_POWER = "No answer came: the bot is without power."
BAD_NETWORK = (DROPS, LIMITS, ERRORS, TWICE, SLOW)
NO_ROOM = 0
"""So many bytes the bot may write to a file while the disk is full: whoever plays sees it at the first press."""


async def set_broken(room: TryRoom, what: str, on: bool, person: Person) -> None:
    """Break something, or mend it; raises `CastMistake` for what cannot be broken."""
    async with room.lock:
        if what == POWER:
            await (room.bot.kill() if on else _power(room))
        elif what == NETWORK and room.server.faults is not None:
            room.server.faults.choose(BAD_NETWORK if on else ())
        elif what == DISK:
            room.bot.limit_files(NO_ROOM if on else None)
        elif what == CLOSED:
            person.dms_open = not on
        else:
            raise CastMistake(f"nothing called {what!r} can be broken")
        if what != CLOSED:
            (room.broken.add if on else room.broken.discard)(what)
        room.trouble = ""
        room.changed()


async def give_power(room: TryRoom) -> None:
    """Start the bot where it has none."""
    if not room.has_power:
        async with room.lock:
            await _power(room)


async def _power(room: TryRoom) -> None:
    if not room.has_power:
        await room.bot.start()
    room.broken.discard(POWER)
    if DISK in room.broken:
        room.bot.limit_files(NO_ROOM)
