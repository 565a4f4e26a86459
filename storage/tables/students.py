"""Students: entered, seated in a squad, linked to an account, looking for a squad."""

from datetime import datetime

from storage.records.people import Student
from storage.tables.sql_session import Snapshot, Transaction, stamp
from storage.tables.squad_room_members import leave_room, want_in_room


async def student(db: Snapshot, student_id: int) -> Student | None:
    """One student by id."""
    return await db.one(Student, "SELECT * FROM student WHERE id = ?", student_id)


async def student_of(db: Snapshot, tryout_id: int, platform_id: int) -> Student | None:
    """The student behind a chat account."""
    return await db.one(
        Student, "SELECT * FROM student WHERE tryout_id = ? AND platform_id = ?", tryout_id, platform_id
    )


async def students(db: Snapshot, tryout_id: int) -> list[Student]:
    """All students of a try-out, in the order in which they came."""
    return await db.all(Student, "SELECT * FROM student WHERE tryout_id = ? ORDER BY id", tryout_id)


async def count_alone(db: Snapshot, tryout_id: int, section: str) -> int:
    """How many students of a section have no squad."""
    return int(
        await db.value(
            "SELECT count(*) FROM student WHERE tryout_id = ? AND section = ? AND squad_id IS NULL", tryout_id, section
        )
    )


async def enter_student(db: Transaction, tryout_id: int, platform_id: int | None, name: str, section: str) -> int:
    """Enter a student, or correct the name and section of one who is known; return the id."""
    known = await student_of(db, tryout_id, platform_id) if platform_id is not None else None
    if known is None:
        return await add_student(db, tryout_id, platform_id, name, section)
    await correct_student(db, known.id, name, section)
    return known.id


async def correct_student(db: Transaction, student_id: int, name: str, section: str) -> None:
    """Correct the name and section of a student."""
    await db.run("UPDATE student SET name = ?, section = ? WHERE id = ?", name, section, student_id)


async def add_student(db: Transaction, tryout_id: int, platform_id: int | None, name: str, section: str) -> int:
    """Enter a student who is not known yet; return the id.

    Raises:
        Conflict: there is one with that account.
    """
    return await db.insert(
        "INSERT INTO student (tryout_id, platform_id, name, section) VALUES (?, ?, ?, ?)",
        tryout_id,
        platform_id,
        name,
        section,
    )


async def seat(db: Transaction, student: Student, squad_id: int, now: datetime) -> None:
    """Put a student into a squad, and into its room if the student has an account."""
    await db.run(
        "UPDATE student SET squad_id = ?, looking = 0, joined_at = ?, manages_server_at = NULL WHERE id = ?",
        squad_id,
        stamp(now),
        student.id,
    )
    if student.platform_id is not None:
        await want_in_room(db, squad_id, student.platform_id)


async def unseat(db: Transaction, student: Student) -> None:
    """Take a student out of the squad and its room."""
    await db.run("UPDATE student SET squad_id = NULL, joined_at = NULL WHERE id = ?", student.id)
    if student.squad_id is not None and student.platform_id is not None:
        await leave_room(db, student.squad_id, student.platform_id)


async def note_late(db: Transaction, student_id: int, now: datetime) -> None:
    """Note that the coach has been told of a student who came late."""
    await db.run("UPDATE student SET late_at = ? WHERE id = ?", stamp(now), student_id)


async def set_account(db: Transaction, student: Student, platform_id: int | None) -> None:
    """Link a student to a chat account, or let go of the one there is; the room of the squad follows.

    Raises:
        Conflict: the account is another student.
    """
    await db.run("UPDATE student SET platform_id = ? WHERE id = ?", platform_id, student.id)
    if student.squad_id is not None and student.platform_id is not None:
        await leave_room(db, student.squad_id, student.platform_id)
    if student.squad_id is not None and platform_id is not None:
        await want_in_room(db, student.squad_id, platform_id)


async def set_link_code(db: Transaction, student_id: int, code: str | None) -> None:
    """Give a student a code for linking an account, or take it away."""
    await db.run("UPDATE student SET link_code = ? WHERE id = ?", code, student_id)


async def by_link_code(db: Snapshot, tryout_id: int, code: str) -> Student | None:
    """The student with a code for linking an account."""
    return await db.one(Student, "SELECT * FROM student WHERE tryout_id = ? AND link_code = ?", tryout_id, code)


async def set_looking(db: Transaction, student_id: int, looking: bool) -> None:
    """Show or hide an unattached student to squads with a free seat."""
    await db.run("UPDATE student SET looking = ? WHERE id = ?", looking, student_id)


async def brief_opened(db: Transaction, student_id: int, now: datetime) -> None:
    """Note that a student has opened the brief (the first time counts)."""
    await db.run(
        "UPDATE student SET brief_opened_at = coalesce(brief_opened_at, ?) WHERE id = ?", stamp(now), student_id
    )
