"""The draw of the order of the event day."""

import json
from collections.abc import Sequence
from datetime import datetime

from storage.records.event_day import DayDraw
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def draw(db: Snapshot, tryout_id: int) -> DayDraw | None:
    """The draw of the order, if there is one."""
    return await db.one(DayDraw, "SELECT * FROM day_draw WHERE tryout_id = ?", tryout_id)


async def publish(db: Transaction, tryout_id: int, pool: Sequence[int], now: datetime) -> None:
    """Keep the list of squads among which will be drawn.

    Raises:
        Conflict: there is one already.
    """
    sql = "INSERT INTO day_draw (tryout_id, pool_json, published_at) VALUES (?, ?, ?)"
    await db.run(sql, tryout_id, json.dumps(list(pool)), stamp(now))


async def settle(db: Transaction, tryout_id: int, key: str, now: datetime) -> bool:
    """Draw with a key; whether it had not been drawn before."""
    sql = "UPDATE day_draw SET key = ?, drawn_at = ? WHERE tryout_id = ? AND key IS NULL"
    return await db.run(sql, key, stamp(now), tryout_id) == 1
