"""Private rooms: of squads, and of judges who take no direct messages; who should be and who is in them."""

from datetime import datetime
from typing import NamedTuple

from storage.records.rooms import Room
from storage.tables.sql_session import Snapshot, Transaction, stamp

SEAT_OPEN = "wanted <> present AND failed = ''"

_ROOM = (
    "SELECT tryout_id, squad.id AS squad_id, number, name, room_id, room_name, room_outdated, room_closed, withdrawn, "
    f"(SELECT count(*) FROM room_seat WHERE squad_id = squad.id AND {SEAT_OPEN}) AS seats_open "
    "FROM squad JOIN tryout ON tryout.id = tryout_id "
)


# As the index on it says.
OPEN = (
    "(room_id IS NULL AND withdrawn = 0) "
    "OR (room_id IS NOT NULL AND ((withdrawn = 0 AND room_outdated = 1) OR (withdrawn = 1 AND room_closed = 0)))"
)


class RoomClaim(NamedTuple):
    """A room that is being opened: the name it got, and since when."""

    name: str
    at: datetime


async def rooms_with_work(db: Snapshot) -> list[Room]:
    """The rooms of running try-outs that are to be opened, filled, emptied, renamed or put away."""
    return await db.all(
        Room,
        f"{_ROOM} WHERE state <> 'archived' AND squad.id IN (SELECT id FROM squad WHERE {OPEN} "
        f"UNION SELECT squad_id FROM room_seat WHERE {SEAT_OPEN}) ORDER BY squad.id",
    )


async def room(db: Snapshot, squad_id: int) -> Room | None:
    """The room of one squad."""
    return await db.one(Room, f"{_ROOM} WHERE squad.id = ?", squad_id)


async def claim(db: Transaction, tryout_id: int, address: str, name: str, now: datetime) -> None:
    """Note that a room is about to be opened: from here on it may exist."""
    await db.run(
        "INSERT INTO room_claim (tryout_id, address, name, at) VALUES (?, ?, ?, ?) "
        "ON CONFLICT (tryout_id, address) DO UPDATE SET name = excluded.name, at = excluded.at",
        tryout_id,
        address,
        name,
        stamp(now),
    )


async def claimed(db: Snapshot, tryout_id: int, address: str) -> RoomClaim | None:
    """The claim on a room that may have been opened already."""
    found = await db.rows("SELECT name, at FROM room_claim WHERE tryout_id = ? AND address = ?", tryout_id, address)
    return RoomClaim(found[0]["name"], datetime.fromisoformat(found[0]["at"])) if found else None


async def unclaim(db: Transaction, tryout_id: int, address: str) -> None:
    """The room was opened and noted, or certainly was not opened."""
    await db.run("DELETE FROM room_claim WHERE tryout_id = ? AND address = ?", tryout_id, address)


async def known(db: Snapshot) -> set[int]:
    """All rooms that belong to someone."""
    found = await db.rows(
        "SELECT room_id FROM squad WHERE room_id IS NOT NULL UNION SELECT room_id FROM judge WHERE room_id IS NOT NULL"
    )
    return {row[0] for row in found}


async def opened(db: Transaction, squad_id: int, room_id: int, name: str) -> None:
    """Note a squad's new room; nobody is in it yet, and the squad may be called otherwise by now."""
    await db.run(
        "UPDATE squad SET room_id = ?, room_name = ?, room_outdated = 1, room_closed = 0 WHERE id = ?",
        room_id,
        name,
        squad_id,
    )
    await db.run("UPDATE room_seat SET present = 0, failed = '' WHERE squad_id = ?", squad_id)


async def lost(db: Transaction, squad_id: int) -> None:
    """A squad's room is no longer there."""
    await db.run("UPDATE squad SET room_id = NULL, room_name = '' WHERE id = ?", squad_id)


async def renamed(db: Transaction, squad_id: int, room_name: str, name: str) -> None:
    """Note what a squad's room is called now, by the squad's name as it was then."""
    await db.run("UPDATE squad SET room_name = ?, room_outdated = (name <> ?) WHERE id = ?", room_name, name, squad_id)


async def closed(db: Transaction, squad_id: int) -> None:
    """Note that the room of a squad that withdrew is put away, and nobody is in it."""
    await db.run("UPDATE squad SET room_closed = 1 WHERE id = ?", squad_id)
    await db.run("UPDATE room_seat SET present = 0 WHERE squad_id = ? AND wanted = 0", squad_id)


async def close_direct(db: Transaction, judge_id: int, now: datetime) -> None:
    """A judge takes no direct messages: from now on a private room stands in for them."""
    await db.run(
        "UPDATE judge SET direct_id = NULL, direct_closed_at = coalesce(direct_closed_at, ?) WHERE id = ?",
        stamp(now),
        judge_id,
    )


async def reopen_direct(db: Transaction, judge_id: int) -> None:
    """A judge asked for direct messages again: the next one is tried there."""
    await db.run("UPDATE judge SET direct_closed_at = NULL WHERE id = ?", judge_id)


async def set_judge_room(db: Transaction, judge_id: int, room_id: int | None) -> None:
    """Note the private room that stands in for a judge's direct messages."""
    await db.run("UPDATE judge SET room_id = ? WHERE id = ?", room_id, judge_id)
