"""Who has which turn at the practice table; a turn that nothing has happened to has no row."""

import json
from collections.abc import Sequence
from datetime import datetime

from storage.records.practice import PracticeDraw, Turn
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def turns(db: Snapshot, tryout_id: int) -> list[Turn]:
    """Every turn that is not simply free, in order of time."""
    return await db.all(Turn, "SELECT * FROM practice_turn WHERE tryout_id = ? ORDER BY begins_at", tryout_id)


async def hold(db: Transaction, tryout_id: int, begins_at: datetime, squad_id: int) -> None:
    """Give a free turn to a squad.

    Raises:
        Conflict: it is not free.
    """
    sql = "INSERT INTO practice_turn (tryout_id, begins_at, squad_id, state) VALUES (?, ?, ?, 'held')"
    await db.run(sql, tryout_id, stamp(begins_at), squad_id)
    await db.run("DELETE FROM practice_claim WHERE squad_id = ? AND turns = 1", squad_id)
    await db.run("UPDATE practice_claim SET turns = turns - 1 WHERE squad_id = ?", squad_id)


async def claims(db: Snapshot, tryout_id: int) -> dict[int, datetime]:
    """Squads that have lost turns and not booked others yet, and until when they choose first."""
    rows = await db.rows(
        "SELECT squad_id, until FROM practice_claim JOIN squad ON squad.id = squad_id "
        "WHERE tryout_id = ? AND withdrawn = 0",
        tryout_id,
    )
    return {row["squad_id"]: datetime.fromisoformat(row["until"]) for row in rows}


async def claim(db: Transaction, squad_id: int, turns: int, until: datetime) -> None:
    """Let a squad choose first for so many turns that it has lost."""
    await db.run(
        "INSERT INTO practice_claim (squad_id, turns, until) VALUES (?, ?, ?) "
        "ON CONFLICT (squad_id) DO UPDATE SET turns = turns + excluded.turns, until = excluded.until",
        squad_id,
        turns,
        stamp(until),
    )


async def block(db: Transaction, tryout_id: int, begins_at: datetime) -> None:
    """Keep a turn from being booked, whoever had it."""
    sql = "INSERT OR REPLACE INTO practice_turn (tryout_id, begins_at, squad_id, state) VALUES (?, ?, NULL, 'blocked')"
    await db.run(sql, tryout_id, stamp(begins_at))


async def free(db: Transaction, tryout_id: int, begins_at: datetime) -> None:
    """Let a turn be booked again."""
    await db.run("DELETE FROM practice_turn WHERE tryout_id = ? AND begins_at = ?", tryout_id, stamp(begins_at))


async def free_all(db: Transaction, squad_id: int) -> None:
    """Forget the turns that a squad has, past and to come, so that they are free; those that it lost stay on record."""
    await db.run("DELETE FROM practice_turn WHERE squad_id = ? AND state = 'held'", squad_id)


async def set_lost(db: Transaction, tryout_id: int, begins_at: datetime, lost: bool) -> None:
    """Note that a squad's turn was lost through equipment, or was not."""
    sql = "UPDATE practice_turn SET state = ? WHERE tryout_id = ? AND begins_at = ? AND squad_id IS NOT NULL"
    await db.run(sql, "lost" if lost else "held", tryout_id, stamp(begins_at))


async def draw(db: Snapshot, tryout_id: int) -> PracticeDraw | None:
    """The lot for the first round, if there is one."""
    return await db.one(PracticeDraw, "SELECT * FROM practice_draw WHERE tryout_id = ?", tryout_id)


async def publish_draw(db: Transaction, tryout_id: int, pool: Sequence[int], now: datetime) -> None:
    """Keep the list of squads among which will be drawn.

    Raises:
        Conflict: there is one already.
    """
    sql = "INSERT INTO practice_draw (tryout_id, pool_json, published_at) VALUES (?, ?, ?)"
    await db.run(sql, tryout_id, json.dumps(list(pool)), stamp(now))


async def settle_draw(db: Transaction, tryout_id: int, key: str, now: datetime) -> bool:
    """Draw with a key; whether it had not been drawn before."""
    sql = "UPDATE practice_draw SET key = ?, drawn_at = ? WHERE tryout_id = ? AND key IS NULL"
    return await db.run(sql, key, stamp(now), tryout_id) == 1
