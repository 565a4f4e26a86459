"""Corrections by the coach: what each has changed, where a student was before, and which is the last."""

import json
from datetime import datetime
from typing import Any

from storage.records.decisions_and_corrections import Correction
from storage.records.people import Student
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def keep(db: Transaction, one: Correction) -> int:
    """Keep what a correction has changed (its own id is ignored); the id it got."""
    return await db.insert(
        "INSERT INTO correction (tryout_id, kind, student_id, squad_id, decision_id, before_json, after_json, made_at) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        one.tryout_id,
        one.kind,
        one.student_id,
        one.squad_id,
        one.decision_id,
        json.dumps(one.before, ensure_ascii=False),
        json.dumps(one.after, ensure_ascii=False),
        stamp(one.made_at),
    )


async def correction(db: Snapshot, tryout_id: int, correction_id: int) -> Correction | None:
    """One correction of a try-out."""
    return await db.one(Correction, "SELECT * FROM correction WHERE tryout_id = ? AND id = ?", tryout_id, correction_id)


async def last_of(db: Snapshot, *, student_id: int | None = None, squad_id: int | None = None) -> Correction | None:
    """The last correction of a student or squad, unless it has been undone."""
    found = await db.one(
        Correction,
        "SELECT * FROM correction WHERE student_id IS ? AND squad_id IS ? ORDER BY id DESC LIMIT 1",
        student_id,
        squad_id,
    )
    return found if found and found.undone_at is None else None


async def undone(db: Transaction, one: Correction, now: datetime) -> None:
    """Note that a correction has been undone; the exception it needed is one no more."""
    await db.run("UPDATE correction SET undone_at = ? WHERE id = ?", stamp(now), one.id)
    if one.decision_id is not None:
        await db.run("DELETE FROM decision WHERE id = ?", one.decision_id)


async def seat_of(db: Snapshot, student: Student) -> dict[str, Any]:
    """Where a student is and what hangs on it, to see later whether it still stands so."""
    now = await db.rows("SELECT name, section, platform_id, squad_id, joined_at FROM student WHERE id = ?", student.id)
    led = await db.value("SELECT count(*) FROM squad WHERE captain_id = ?", student.id)
    seat = dict(zip(now[0].keys(), tuple(now[0]), strict=True))
    return {**seat, "captain": bool(led), "parts": await parts(db, student.id)}


async def parts(db: Snapshot, student_id: int) -> dict[str, int]:
    """The parts a student has handed in: the squad by event."""
    rows = await db.rows("SELECT event, squad_id FROM hand_in WHERE student_id = ? ORDER BY event", student_id)
    return {row["event"]: row["squad_id"] for row in rows}


async def attempts_since(db: Snapshot, squad_ids: tuple[int, ...], since: datetime) -> int:
    """How many attempts have been recorded for these squads since an instant."""
    places = ", ".join("?" * len(squad_ids))
    sql = f"SELECT count(*) FROM attempt WHERE squad_id IN ({places}) AND recorded_at > ? AND undone_at IS NULL"
    return int(await db.value(sql, *squad_ids, stamp(since)))


async def known_as(db: Snapshot, student_id: int) -> set[str]:
    """Names, and accounts, under which a student was known before corrections; none that is another student's now."""
    found: set[str] = set()
    for one in await db.all(Correction, "SELECT * FROM correction WHERE student_id = ?", student_id):
        found |= {str(side["name"]) for side in (one.before, one.after) if "name" in side}
        rows = one.before.get("rows", ()) if one.undone_at is None else ()
        found |= {str(row[column]) for row in rows for column in ("name", "platform_id") if row[column] is not None}
    others = await db.rows(
        "SELECT name FROM student WHERE id <> ?1 AND tryout_id = (SELECT tryout_id FROM student WHERE id = ?1)",
        student_id,
    )
    return found - {row["name"] for row in others}
