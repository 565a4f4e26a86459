"""The timetable of the event days, and since when squads have read it."""

import json
from collections.abc import Iterable, Sequence
from datetime import datetime

from storage.records.event_day import DaySlot
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def told(db: Transaction, tryout_id: int, now: datetime | None) -> None:
    """Squads read the timetable from now on; None: no more, until they are told again."""
    sql = "UPDATE day_draw SET told_at = ? WHERE tryout_id = ?"
    await db.run(sql, None if now is None else stamp(now), tryout_id)


async def slots(db: Snapshot, tryout_id: int) -> list[DaySlot]:
    """The timetable by time; squads that were taken out have no slots in it."""
    return await db.all(
        DaySlot,
        "SELECT day_slot.* FROM day_slot JOIN squad ON squad.id = squad_id WHERE tryout_id = ? AND withdrawn = 0 "
        "ORDER BY begins_at, day_slot.id",
        tryout_id,
    )


async def interviews_at(db: Snapshot, tryout_id: int, now: datetime) -> list[DaySlot]:
    """The interviews that are on."""
    return await db.all(
        DaySlot,
        "SELECT day_slot.* FROM day_slot JOIN squad ON squad.id = squad_id WHERE tryout_id = ?1 AND withdrawn = 0 "
        "AND kind = 'interview' AND begins_at <= ?2 AND ends_at > ?2 ORDER BY day_slot.id",
        tryout_id,
        stamp(now),
    )


async def replace_slots(db: Transaction, tryout_id: int, new: Iterable[DaySlot]) -> None:
    """Put a timetable in the place of the one there is (ids are given anew)."""
    await db.run("DELETE FROM day_slot WHERE squad_id IN (SELECT id FROM squad WHERE tryout_id = ?)", tryout_id)
    for slot in new:
        await db.insert(
            "INSERT INTO day_slot (squad_id, kind, event, number, table_number, judges_json, begins_at, ends_at, "
            "misses, called_at, closed_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            slot.squad_id,
            slot.kind,
            slot.event,
            slot.number,
            slot.table_number,
            json.dumps(list(slot.judges)),
            stamp(slot.begins_at),
            stamp(slot.ends_at),
            slot.misses,
            None if slot.called_at is None else stamp(slot.called_at),
            None if slot.closed_at is None else stamp(slot.closed_at),
        )


async def move(db: Transaction, slot: DaySlot) -> None:
    """Keep another time, table and count of misses of a slot, and whether its squad was called for it."""
    await db.run(
        "UPDATE day_slot SET begins_at = ?, ends_at = ?, table_number = ?, misses = ?, called_at = ? WHERE id = ?",
        stamp(slot.begins_at),
        stamp(slot.ends_at),
        slot.table_number,
        slot.misses,
        None if slot.called_at is None else stamp(slot.called_at),
        slot.id,
    )


async def seat_judges(db: Transaction, slot_id: int, judges: Sequence[int]) -> None:
    """Let these judges take part in an interview."""
    await db.run("UPDATE day_slot SET judges_json = ? WHERE id = ?", json.dumps(list(judges)), slot_id)


async def called(db: Transaction, slot_id: int, now: datetime) -> bool:
    """Note that a squad was called; False when it was before."""
    sql = "UPDATE day_slot SET called_at = ? WHERE id = ? AND called_at IS NULL"
    return await db.run(sql, stamp(now), slot_id) == 1


async def close(db: Transaction, slot_id: int, now: datetime | None) -> None:
    """The slot is over without an attempt on record; None: it is still to come after all."""
    await db.run("UPDATE day_slot SET closed_at = ? WHERE id = ?", None if now is None else stamp(now), slot_id)
