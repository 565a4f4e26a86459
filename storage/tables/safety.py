"""Safety checks before runs, and stops."""

from collections.abc import Iterable
from datetime import datetime

from storage.records.event_day import SafetyCheck, SafetyStop
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def checks(db: Snapshot, tryout_id: int, event: str) -> list[SafetyCheck]:
    """Who has checked an event, oldest first."""
    sql = "SELECT * FROM safety_check WHERE tryout_id = ? AND event = ? ORDER BY id"
    return await db.all(SafetyCheck, sql, tryout_id, event)


async def note_check(
    db: Transaction, tryout_id: int, event: str, squad_ids: Iterable[int | None], who: int, now: datetime
) -> None:
    """Note that somebody has checked an event; for all squads (None), or for those of a wave."""
    sql = "INSERT INTO safety_check (tryout_id, event, squad_id, checked_by, checked_at) VALUES (?, ?, ?, ?, ?)"
    for squad_id in squad_ids:
        await db.run(sql, tryout_id, event, squad_id, who, stamp(now))


async def stopped(db: Snapshot, tryout_id: int) -> dict[str, SafetyStop]:
    """The events that stand still, with the newest stop of each."""
    sql = "SELECT * FROM safety_stop WHERE tryout_id = ? AND lifted_at IS NULL ORDER BY id"
    return {stop.event: stop for stop in await db.all(SafetyStop, sql, tryout_id)}


async def last_stop(db: Snapshot, tryout_id: int, event: str) -> SafetyStop | None:
    """The newest stop of an event, whether it was lifted or not."""
    sql = "SELECT * FROM safety_stop WHERE tryout_id = ? AND event = ? ORDER BY id DESC LIMIT 1"
    return await db.one(SafetyStop, sql, tryout_id, event)


async def stop(db: Transaction, tryout_id: int, event: str, reason: str, who: int, now: datetime) -> None:
    """Nothing of an event starts any more."""
    sql = "INSERT INTO safety_stop (tryout_id, event, reason, stopped_by, stopped_at) VALUES (?, ?, ?, ?, ?)"
    await db.run(sql, tryout_id, event, reason, who, stamp(now))


async def lift(db: Transaction, tryout_id: int, event: str, now: datetime) -> bool:
    """Let an event go on; False when it did not stand still."""
    sql = "UPDATE safety_stop SET lifted_at = ? WHERE tryout_id = ? AND event = ? AND lifted_at IS NULL"
    return await db.run(sql, stamp(now), tryout_id, event) > 0
