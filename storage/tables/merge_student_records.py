"""Two records of one student become one, and two again: what belongs to the one that goes belongs to the other."""

from collections.abc import Mapping
from typing import Any

from storage.records.people import Student
from storage.tables.sql_session import Snapshot, Transaction, Value, stamp

MOVED = {"hand_in": ("event",), "presence": ("squad_id", "event"), "rules_question": ("id",), "decision": ("id",)}
"""The tables whose rows belong to a student and follow one who is joined with another, and what names a row there."""


async def clash(db: Snapshot, one_id: int, other_id: int) -> bool:
    """Whether two records of students both have a part of one piece, or a tick for one event, so that one must go."""
    sql = (
        "SELECT EXISTS (SELECT 1 FROM hand_in JOIN hand_in AS other USING (event) "
        "WHERE hand_in.student_id = ?1 AND other.student_id = ?2) "
        "OR EXISTS (SELECT 1 FROM presence JOIN presence AS other USING (squad_id, event) "
        "WHERE presence.student_id = ?1 AND other.student_id = ?2)"
    )
    return bool(await db.value(sql, one_id, other_id))


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
