"""Who helps to run a try-out: coaches, scorekeepers and typists."""

from storage.records.people import Officer
from storage.tables import squad_room_members
from storage.tables.sql_session import Snapshot, Transaction


async def officers(db: Snapshot, tryout_id: int) -> list[Officer]:
    """Coaches, scorekeepers and typists, in the order in which they were enrolled."""
    return await db.all(Officer, "SELECT * FROM officer WHERE tryout_id = ? ORDER BY id", tryout_id)


async def roles_held(db: Snapshot, tryout_id: int, platform_id: int) -> set[str]:
    """What an account is: `coach`, `scorekeeper`, `typist`, `judge`, `competitor` (has a seat in a squad)."""
    rows = await db.rows(
        "SELECT role FROM officer WHERE tryout_id = ?1 AND platform_id = ?2 "
        "UNION SELECT 'judge' FROM judge WHERE tryout_id = ?1 AND platform_id = ?2 AND removed = 0 "
        "UNION SELECT 'competitor' FROM student WHERE tryout_id = ?1 AND platform_id = ?2 AND squad_id IS NOT NULL",
        tryout_id,
        platform_id,
    )
    return {row[0] for row in rows}


async def add_officer(db: Transaction, tryout_id: int, platform_id: int, name: str, role: str) -> None:
    """Enrol a coach, a scorekeeper or a typist; once is enough."""
    await db.run(
        "INSERT INTO officer (tryout_id, platform_id, name, role) VALUES (?, ?, ?, ?) "
        "ON CONFLICT (tryout_id, platform_id, role) DO UPDATE SET name = excluded.name",
        tryout_id,
        platform_id,
        name,
        role,
    )
    if role == "coach":
        await squad_room_members.seat_coach(db, tryout_id, platform_id)


async def remove_officer(db: Transaction, tryout_id: int, platform_id: int, role: str) -> None:
    """Take the office from someone."""
    await db.run(
        "DELETE FROM officer WHERE tryout_id = ? AND platform_id = ? AND role = ?", tryout_id, platform_id, role
    )
    if role == "coach":
        await squad_room_members.unseat_coach(db, tryout_id, platform_id)
