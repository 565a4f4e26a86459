"""Students who were seen with the right to manage the class server."""

from datetime import datetime

from storage.records.people import Student
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def manages_unnoted(db: Snapshot, tryout_id: int, platform_id: int, since: datetime) -> bool:
    """Whether this account is a student in a squad of whom it was not noted since then that it manages the server."""
    sql = (
        "SELECT EXISTS (SELECT 1 FROM student WHERE tryout_id = ? AND platform_id = ? AND squad_id IS NOT NULL "
        "AND coalesce(manages_server_at, '') < ?)"
    )
    return bool(await db.value(sql, tryout_id, platform_id, stamp(since)))


async def note_manages(db: Transaction, tryout_id: int, platform_id: int, now: datetime) -> None:
    """Note of a student that the account may manage the class server."""
    await db.run(
        "UPDATE student SET manages_server_at = ? WHERE tryout_id = ? AND platform_id = ?",
        stamp(now),
        tryout_id,
        platform_id,
    )


async def suspended_helpers(db: Snapshot, tryout_id: int, since: datetime) -> list[Student]:
    """Students in squads who hold an office, judge, or were seen since then with the right to manage the server."""
    return await db.all(
        Student,
        "SELECT * FROM student WHERE tryout_id = ?1 AND squad_id IS NOT NULL AND (manages_server_at >= ?2 "
        "OR platform_id IN (SELECT platform_id FROM officer WHERE tryout_id = ?1) "
        "OR platform_id IN (SELECT platform_id FROM judge WHERE tryout_id = ?1 AND removed = 0)) ORDER BY id",
        tryout_id,
        stamp(since),
    )
