"""The parts that members add to the group piece of their squad."""

from storage.records.hand_in import Part, Photo
from storage.tables.sql_session import Snapshot, Transaction, stamp

_PART = (
    "SELECT student_id, hand_in.squad_id, reason, photo_sha256, by_coach, late_reason, handed_in_at "
    "FROM hand_in JOIN student ON student.id = student_id AND student.squad_id = hand_in.squad_id"
)
"""Only parts of those who are in the squad now."""


async def parts(db: Snapshot, squad_id: int) -> dict[int, Part]:
    """The parts of a squad's members by student id."""
    found = await db.all(Part, f"{_PART} WHERE hand_in.squad_id = ?", squad_id)
    return {one.student_id: one for one in found}


async def part(db: Snapshot, student_id: int) -> Part | None:
    """The part of a student in the squad the student is in."""
    return await db.one(Part, f"{_PART} WHERE student_id = ?", student_id)


async def counts(db: Snapshot, tryout_id: int) -> dict[int, int]:
    """How many members of each squad (by id) have added a part; squads without any are not in it."""
    rows = await db.rows(
        "SELECT hand_in.squad_id, count(*) FROM hand_in "
        "JOIN student ON student.id = student_id AND student.squad_id = hand_in.squad_id "
        "WHERE student.tryout_id = ? GROUP BY hand_in.squad_id",
        tryout_id,
    )
    return {int(row[0]): int(row[1]) for row in rows}


async def photo(db: Snapshot, student_id: int) -> bytes | None:
    """The photo of a student's part, if it has one."""
    found = await db.value("SELECT photo FROM hand_in WHERE student_id = ?", student_id)
    return None if found is None else bytes(found)


async def put(db: Transaction, part: Part) -> None:
    """Keep the words of a part; its photo stays where it was added to the same squad."""
    await db.run(
        "INSERT INTO hand_in (student_id, squad_id, reason, by_coach, late_reason, handed_in_at) "
        "VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (student_id) DO UPDATE SET squad_id = excluded.squad_id, "
        "reason = excluded.reason, by_coach = excluded.by_coach, late_reason = excluded.late_reason, "
        "handed_in_at = excluded.handed_in_at, "
        "photo = CASE WHEN squad_id = excluded.squad_id THEN photo END, "
        "photo_sha256 = CASE WHEN squad_id = excluded.squad_id THEN photo_sha256 END",
        part.student_id,
        part.squad_id,
        part.reason,
        part.by_coach,
        part.late_reason,
        stamp(part.handed_in_at),
    )


async def set_photo(db: Transaction, student_id: int, photo: Photo | None) -> None:
    """Keep another photo with a part, or none."""
    await db.run(
        "UPDATE hand_in SET photo = ?, photo_sha256 = ? WHERE student_id = ?",
        photo.data if photo else None,
        photo.sha256 if photo else None,
        student_id,
    )


async def remove(db: Transaction, student_id: int) -> bool:
    """Take a part out of the file with its photo; False when there was none."""
    return await db.run("DELETE FROM hand_in WHERE student_id = ?", student_id) == 1
