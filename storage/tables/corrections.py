"""Corrections by the coach: what each has changed, and how it is put back."""

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from storage.records.corrections import Correction
from storage.records.people import Student
from storage.tables.sql_session import Snapshot, Transaction, Value, stamp

MOVED = {"hand_in": ("event",), "presence": ("squad_id", "event"), "rules_question": ("id",), "decision": ("id",)}
"""The tables whose rows belong to a student and follow one who is joined with another, and what names a row there."""


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


async def clash(db: Snapshot, one_id: int, other_id: int) -> bool:
    """Whether two records of students both have a part of one piece, or a tick for one event, so that one must go."""
    sql = (
        "SELECT EXISTS (SELECT 1 FROM hand_in JOIN hand_in AS other USING (event) "
        "WHERE hand_in.student_id = ?1 AND other.student_id = ?2) "
        "OR EXISTS (SELECT 1 FROM presence JOIN presence AS other USING (squad_id, event) "
        "WHERE presence.student_id = ?1 AND other.student_id = ?2)"
    )
    return bool(await db.value(sql, one_id, other_id))


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


async def join_students(db: Transaction, stays: Student, goes: Student) -> dict[str, Any]:
    """Make two records of one student one; what is returned is all that `part_students` needs to undo it.

    What belongs to the one that goes belongs to the other from then on. The caller has checked that they do not clash.
    """
    rows = await db.rows("SELECT * FROM student WHERE id IN (?, ?)", stays.id, goes.id)
    entries = await db.rows("SELECT id, student_id FROM class_list_entry WHERE student_id IN (?, ?)", stays.id, goes.id)
    led = [row["id"] for row in await db.rows("SELECT id FROM squad WHERE captain_id = ?", goes.id)]
    kept: dict[str, Any] = {
        "rows": [dict(zip(row.keys(), tuple(row), strict=True)) for row in rows],
        "entries": [[row["id"], row["student_id"]] for row in entries],
        "led": led,
        "moved": {},
    }
    for table, names in MOVED.items():
        found = await db.rows(f"SELECT {', '.join(names)} FROM {table} WHERE student_id = ?", goes.id)
        kept["moved"][table] = [list(row) for row in found]
        await db.run(f"UPDATE {table} SET student_id = ? WHERE student_id = ?", stays.id, goes.id)
    if not any(student == stays.id for _, student in kept["entries"]):
        await db.run("UPDATE class_list_entry SET student_id = ? WHERE student_id = ?", stays.id, goes.id)
    for squad_id in led:
        await db.run("UPDATE squad SET captain_id = ? WHERE id = ?", stays.id, squad_id)
    await db.run("UPDATE student SET platform_id = NULL, squad_id = NULL, joined_at = NULL WHERE id = ?", goes.id)
    await db.run(
        "UPDATE student SET platform_id = coalesce(platform_id, ?), squad_id = coalesce(squad_id, ?), "
        "joined_at = coalesce(joined_at, ?), brief_opened_at = coalesce(brief_opened_at, ?), looking = 0 WHERE id = ?",
        goes.platform_id,
        goes.squad_id,
        stamp(goes.joined_at) if goes.joined_at else None,
        stamp(goes.brief_opened_at) if goes.brief_opened_at else None,
        stays.id,
    )
    await db.run("DELETE FROM student WHERE id = ?", goes.id)
    return kept


async def part_students(db: Transaction, stays_id: int, kept: Mapping[str, Any]) -> None:
    """Undo `join_students`.

    Raises:
        Conflict: an account or a name on the list belongs to somebody else by now.
    """
    stays, goes = sorted(kept["rows"], key=lambda row: row["id"] != stays_id)
    await _write(db, stays)
    columns = ", ".join(goes)
    await db.run(f"INSERT INTO student ({columns}) VALUES ({', '.join('?' * len(goes))})", *goes.values())
    for table, names in MOVED.items():
        named = " AND ".join(f"{name} = ?" for name in names)
        for row in kept["moved"][table]:
            await db.run(
                f"UPDATE {table} SET student_id = ? WHERE student_id = ? AND {named}", goes["id"], stays_id, *row
            )
    for entry_id, student_id in kept["entries"]:
        await db.run("UPDATE class_list_entry SET student_id = ? WHERE id = ?", student_id, entry_id)
    for squad_id in kept["led"]:
        await db.run("UPDATE squad SET captain_id = ? WHERE id = ?", goes["id"], squad_id)


async def _write(db: Transaction, row: Mapping[str, Value]) -> None:
    """Put a student's row back as it was."""
    values = {name: value for name, value in row.items() if name != "id"}
    setting = ", ".join(f"{name} = ?" for name in values)
    await db.run(f"UPDATE student SET {setting} WHERE id = ?", *values.values(), row["id"])
