"""Who belongs in a squad's private room, and is in it: members with an account, and every coach."""

import json
from collections.abc import Collection

from storage.records.rooms import Seat
from storage.tables.rooms import SEAT_OPEN
from storage.tables.sql_session import Snapshot, Transaction


async def want_in_room(db: Transaction, squad_id: int, platform_id: int) -> None:
    """Someone should be in a squad's private room."""
    await db.run(
        "INSERT INTO room_seat (squad_id, platform_id, wanted) VALUES (?, ?, 1) "
        "ON CONFLICT (squad_id, platform_id) DO UPDATE SET wanted = 1, failed = ''",
        squad_id,
        platform_id,
    )


async def leave_room(db: Transaction, squad_id: int, platform_id: int) -> None:
    """Someone should be in a squad's private room no more."""
    await db.run(
        "UPDATE room_seat SET wanted = 0, failed = '' WHERE squad_id = ? AND platform_id = ?", squad_id, platform_id
    )


async def all_leave_room(db: Transaction, squad_id: int) -> None:
    """Nobody should be in a squad's private room any more."""
    await db.run("UPDATE room_seat SET wanted = 0 WHERE squad_id = ?", squad_id)


# Members with an account, and coaches; nobody once the squad has withdrawn.
_WANTED = (
    "SELECT squad.id AS squad_id, student.platform_id FROM squad JOIN student ON student.squad_id = squad.id "
    "WHERE student.platform_id IS NOT NULL AND withdrawn = 0 "
    "UNION SELECT squad.id, officer.platform_id FROM squad JOIN officer ON officer.tryout_id = squad.tryout_id "
    "WHERE withdrawn = 0 AND role = 'coach'"
)


async def seats(db: Snapshot, squad_id: int) -> list[Seat]:
    """Who is still to be added to a squad's room or taken out."""
    return await db.all(
        Seat,
        f"SELECT * FROM room_seat WHERE squad_id = ? AND {SEAT_OPEN} ORDER BY rowid",
        squad_id,
    )


async def seat_coaches(db: Transaction, squad_id: int) -> None:
    """Have the coaches in the room of a new squad."""
    await db.run(
        "INSERT INTO room_seat (squad_id, platform_id, wanted) SELECT squad.id, officer.platform_id, 1 "
        "FROM squad JOIN officer ON officer.tryout_id = squad.tryout_id WHERE squad.id = ? AND role = 'coach'",
        squad_id,
    )


async def seat_coach(db: Transaction, tryout_id: int, platform_id: int) -> None:
    """Have a coach in the room of every squad."""
    await db.run(
        "INSERT INTO room_seat (squad_id, platform_id, wanted) SELECT id, ?, 1 FROM squad "
        "WHERE tryout_id = ? AND withdrawn = 0 "
        "ON CONFLICT (squad_id, platform_id) DO UPDATE SET wanted = 1, failed = '' WHERE wanted = 0",
        platform_id,
        tryout_id,
    )


async def unseat_coach(db: Transaction, tryout_id: int, platform_id: int) -> None:
    """Someone is no coach any more, and stays in the room of their own squad only."""
    await db.run(
        "UPDATE room_seat SET wanted = 0, failed = '' WHERE platform_id = ?1 AND wanted = 1 AND squad_id IN "
        "(SELECT id FROM squad WHERE tryout_id = ?2) AND squad_id IS NOT "
        "(SELECT squad_id FROM student WHERE tryout_id = ?2 AND platform_id = ?1)",
        platform_id,
        tryout_id,
    )


async def adjust_seats(db: Transaction, squad_ids: Collection[int] | None = None) -> None:
    """Have the seats follow the squads and offices: in the rooms of these squads, or in all."""
    here, values = "true", []
    if squad_ids is not None:
        here, values = "squad_id IN (SELECT value FROM json_each(?))", [json.dumps(list(squad_ids))]
    await db.run(
        "INSERT INTO room_seat (squad_id, platform_id, wanted) "
        f"SELECT squad_id, platform_id, 1 FROM ({_WANTED}) WHERE {here} "
        "ON CONFLICT (squad_id, platform_id) DO UPDATE SET wanted = 1, failed = '' WHERE wanted = 0",
        *values,
    )
    await db.run(
        f"UPDATE room_seat SET wanted = 0, failed = '' WHERE {here} AND wanted = 1 "
        f"AND NOT EXISTS (SELECT 1 FROM ({_WANTED}) AS due "
        "WHERE due.squad_id = room_seat.squad_id AND due.platform_id = room_seat.platform_id)",
        *values,
    )


async def seated(db: Transaction, seat: Seat) -> None:
    """Note that someone was added or taken out as wished."""
    await db.run(
        "UPDATE room_seat SET present = ? WHERE squad_id = ? AND platform_id = ?",
        seat.wanted,
        seat.squad_id,
        seat.platform_id,
    )


async def seat_failed(db: Transaction, seat: Seat, why: str) -> None:
    """Note why someone could not be added or taken out."""
    await db.run(
        "UPDATE room_seat SET failed = ? WHERE squad_id = ? AND platform_id = ? AND wanted = ?",
        why,
        seat.squad_id,
        seat.platform_id,
        seat.wanted,
    )


async def show_in_again(db: Transaction, squad_id: int, platform_id: int) -> None:
    """Add somebody who should be in a squad's room once more, whatever is noted of it."""
    await db.run(
        "UPDATE room_seat SET present = 0, failed = '' WHERE squad_id = ? AND platform_id = ? AND wanted = 1",
        squad_id,
        platform_id,
    )


async def try_seats_again(db: Transaction, tryout_id: int) -> None:
    """Forget that people could not be added or taken out."""
    await db.run(
        "UPDATE room_seat SET failed = '' WHERE squad_id IN (SELECT id FROM squad WHERE tryout_id = ?)", tryout_id
    )


async def tidy_seats(db: Transaction, tryout_id: int) -> None:
    """Let go of accounts that are not wanted in a squad's room, once they are out of it or cannot be taken out."""
    await db.run(
        "DELETE FROM room_seat WHERE wanted = 0 AND (present = 0 OR failed <> '') "
        "AND squad_id IN (SELECT id FROM squad WHERE tryout_id = ?)",
        tryout_id,
    )


async def seats_to_empty(db: Snapshot, tryout_id: int) -> int:
    """How many accounts have still to be taken out of a squad's room."""
    return int(
        await db.value(
            "SELECT count(*) FROM room_seat WHERE wanted = 0 AND present = 1 AND failed = '' "
            "AND squad_id IN (SELECT id FROM squad WHERE tryout_id = ?)",
            tryout_id,
        )
    )
