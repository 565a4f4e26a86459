"""Students who are not on the class list and wait for the coach."""

from datetime import datetime

from storage.records.class_list import WaitingStudent
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def ask_in(
    db: Transaction, tryout_id: int, platform_id: int, name: str, section: str, since: datetime
) -> WaitingStudent:
    """Let somebody who is not on the list wait for the coach; what that account said before is overwritten."""
    await db.run(
        "INSERT INTO waiting_student (tryout_id, platform_id, name, section, asked_at) VALUES (?, ?, ?, ?, ?) "
        "ON CONFLICT (tryout_id, platform_id) DO UPDATE SET name = excluded.name, section = excluded.section, "
        "asked_at = excluded.asked_at",
        tryout_id,
        platform_id,
        name,
        section,
        stamp(since),
    )
    found = await waiting_of(db, tryout_id, platform_id)
    assert found is not None
    return found


async def waiting(db: Snapshot, tryout_id: int) -> list[WaitingStudent]:
    """Who waits."""
    return await db.all(WaitingStudent, "SELECT * FROM waiting_student WHERE tryout_id = ? ORDER BY id", tryout_id)


async def waiting_one(db: Snapshot, tryout_id: int, waiting_id: int) -> WaitingStudent | None:
    """One who waits."""
    return await db.one(
        WaitingStudent, "SELECT * FROM waiting_student WHERE tryout_id = ? AND id = ?", tryout_id, waiting_id
    )


async def waiting_of(db: Snapshot, tryout_id: int, platform_id: int) -> WaitingStudent | None:
    """What an account that waits has said."""
    return await db.one(
        WaitingStudent, "SELECT * FROM waiting_student WHERE tryout_id = ? AND platform_id = ?", tryout_id, platform_id
    )


async def stop_waiting(db: Transaction, tryout_id: int, platform_id: int) -> None:
    """The account waits no more: let in, turned away, or erased."""
    await db.run("DELETE FROM waiting_student WHERE tryout_id = ? AND platform_id = ?", tryout_id, platform_id)
