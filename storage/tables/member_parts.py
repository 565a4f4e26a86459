"""The parts that members add to the group pieces of their squad: one of each student for each event with a piece."""

from collections.abc import Sequence

from storage.records.hand_in import Part, Photo
from storage.tables.sql_session import Snapshot, Transaction, stamp

_PART = (
    "SELECT student_id, hand_in.squad_id, event, reason, photo_sha256, by_coach, late_reason, handed_in_at "
    "FROM hand_in JOIN student ON student.id = student_id AND student.squad_id = hand_in.squad_id"
)
"""Only parts of those who are in the squad now."""


async def parts(db: Snapshot, squad_id: int, event: str) -> dict[int, Part]:
    """The parts of a squad's members for an event, by student id."""
    found = await db.all(Part, f"{_PART} WHERE hand_in.squad_id = ? AND event = ?", squad_id, event)
    return {one.student_id: one for one in found}


async def left_behind(db: Snapshot, squad_id: int, event: str) -> dict[int, Part]:
    """The parts of those who have left the squad, where the coach said that they stay, by student id."""
    found = await db.all(
        Part,
        "SELECT student_id, hand_in.squad_id, event, reason, photo_sha256, by_coach, late_reason, handed_in_at "
        "FROM hand_in JOIN student ON student.id = student_id AND student.squad_id IS NOT hand_in.squad_id "
        "WHERE stays = 1 AND hand_in.squad_id = ? AND event = ?",
        squad_id,
        event,
    )
    return {one.student_id: one for one in found}


async def leave_behind(db: Transaction, student_id: int, squad_id: int) -> None:
    """Let the parts of somebody who leaves stay with the squad."""
    await db.run("UPDATE hand_in SET stays = 1 WHERE student_id = ? AND squad_id = ?", student_id, squad_id)


async def part(db: Snapshot, student_id: int, event: str) -> Part | None:
    """The part of a student for an event, in the squad the student is in."""
    return await db.one(Part, f"{_PART} WHERE student_id = ? AND event = ?", student_id, event)


async def who_handed_in(db: Snapshot, tryout_id: int) -> dict[tuple[int, str], frozenset[int]]:
    """The members (by student id) who have added a part, by squad (id) and event; where nobody has, it is not in it."""
    rows = await db.rows(
        "SELECT hand_in.squad_id, event, student.id FROM hand_in "
        "JOIN student ON student.id = student_id AND student.squad_id = hand_in.squad_id WHERE student.tryout_id = ?",
        tryout_id,
    )
    found: dict[tuple[int, str], set[int]] = {}
    for squad_id, event, student_id in rows:
        found.setdefault((int(squad_id), str(event)), set()).add(int(student_id))
    return {about: frozenset(students) for about, students in found.items()}


async def counts(db: Snapshot, tryout_id: int) -> dict[tuple[int, str], int]:
    """How many members have added a part, by squad (id) and event; where nobody has, it is not in it."""
    return {about: len(students) for about, students in (await who_handed_in(db, tryout_id)).items()}


async def photos(db: Snapshot, squad_id: int, event: str, student_ids: Sequence[int]) -> dict[int, bytes]:
    """The photos of these students' parts for an event, by student id; who has none is not in it."""
    rows = await db.rows(
        "SELECT student_id, photo FROM hand_in WHERE squad_id = ? AND event = ? AND photo IS NOT NULL "
        f"AND student_id IN ({', '.join('?' * len(student_ids))})",
        squad_id,
        event,
        *student_ids,
    )
    return {int(row[0]): bytes(row[1]) for row in rows}


async def put(db: Transaction, part: Part, photo_stays: bool) -> None:
    """Keep the words of a part, in place of an earlier one of that student for the event; its photo stays or goes."""
    await db.run(
        "INSERT INTO hand_in (student_id, squad_id, event, reason, by_coach, late_reason, handed_in_at) "
        "VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (student_id, event) DO UPDATE SET squad_id = excluded.squad_id, "
        "stays = 0, reason = excluded.reason, by_coach = excluded.by_coach, late_reason = excluded.late_reason, "
        "handed_in_at = excluded.handed_in_at, "
        "photo = CASE WHEN ? THEN photo END, photo_sha256 = CASE WHEN ? THEN photo_sha256 END",
        part.student_id,
        part.squad_id,
        part.event,
        part.reason,
        part.by_coach,
        part.late_reason,
        stamp(part.handed_in_at),
        photo_stays,
        photo_stays,
    )


async def set_photo(db: Transaction, student_id: int, event: str, photo: Photo | None) -> None:
    """Keep another photo with a part, or none."""
    await db.run(
        "UPDATE hand_in SET photo = ?, photo_sha256 = ? WHERE student_id = ? AND event = ?",
        photo.data if photo else None,
        photo.sha256 if photo else None,
        student_id,
        event,
    )


async def remove(db: Transaction, student_id: int, event: str) -> bool:
    """Take a part out of the file with its photo; False when there was none."""
    return await db.run("DELETE FROM hand_in WHERE student_id = ? AND event = ?", student_id, event) == 1
