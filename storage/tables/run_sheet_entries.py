"""Run sheets as they were typed in from paper, the first and the second time."""

import json

from storage.records.event_day import RunEntry
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def entries(db: Snapshot, squad_id: int, event: str, measure: str) -> list[RunEntry]:
    """What has been typed in of one squad at a measure, and of who was here; by attempt, the first entry first."""
    return await db.all(
        RunEntry,
        "SELECT * FROM run_entry WHERE squad_id = ? AND event = ? AND measure IN ('', ?) ORDER BY number, entry",
        squad_id,
        event,
        measure,
    )


async def typed_once(db: Snapshot, tryout_id: int, event: str, measure: str) -> set[int]:
    """The squads of which something waits to be typed in a second time, or to be settled."""
    rows = await db.rows(
        "SELECT DISTINCT squad_id FROM run_entry JOIN squad ON squad.id = squad_id "
        "WHERE tryout_id = ? AND event = ? AND measure IN ('', ?)",
        tryout_id,
        event,
        measure,
    )
    return {row["squad_id"] for row in rows}


async def keep(db: Transaction, entry: RunEntry) -> None:
    """Keep an entry, or what has been added to it."""
    await db.run(
        "INSERT INTO run_entry (squad_id, event, measure, number, entry, fields_json, entered_by, at) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (squad_id, event, measure, number, entry) DO UPDATE SET "
        "fields_json = excluded.fields_json, entered_by = excluded.entered_by, at = excluded.at",
        entry.squad_id,
        entry.event,
        entry.measure,
        entry.number,
        entry.entry,
        json.dumps(entry.fields, sort_keys=True),
        entry.entered_by,
        stamp(entry.at),
    )


async def drop(db: Transaction, squad_id: int, event: str, measure: str, number: int) -> None:
    """Let go of both entries: what they say is on record, or they are thrown away."""
    sql = "DELETE FROM run_entry WHERE squad_id = ? AND event = ? AND measure = ? AND number = ?"
    await db.run(sql, squad_id, event, measure, number)
