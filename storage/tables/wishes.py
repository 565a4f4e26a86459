"""Wishes of students: whom they would like to be with, and rather not."""

from collections.abc import Iterable

from storage.records.wishes_and_proposals import StoredWish
from storage.tables.sql_session import Snapshot, Transaction


async def wishes(db: Snapshot, tryout_id: int) -> list[StoredWish]:
    """Every wish of a try-out's students."""
    return await db.all(
        StoredWish,
        "SELECT wish.* FROM wish JOIN student ON student.id = student_id WHERE tryout_id = ? "
        "ORDER BY student_id, other_id",
        tryout_id,
    )


async def wishes_of(db: Snapshot, student_id: int) -> list[StoredWish]:
    """The wishes of one student."""
    return await db.all(StoredWish, "SELECT * FROM wish WHERE student_id = ? ORDER BY other_id", student_id)


async def set_wishes(
    db: Transaction, student_id: int, shown: Iterable[int], chosen: Iterable[int], together: bool
) -> None:
    """Replace a student's wishes of one kind among those that were shown."""
    for other in shown:
        await db.run(
            "DELETE FROM wish WHERE student_id = ? AND other_id = ? AND together = ?", student_id, other, int(together)
        )
    for other in chosen:
        await db.run(
            "INSERT INTO wish (student_id, other_id, together) VALUES (?, ?, ?) "
            "ON CONFLICT (student_id, other_id) DO UPDATE SET together = excluded.together",
            student_id,
            other,
            int(together),
        )
