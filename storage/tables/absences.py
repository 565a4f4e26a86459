"""Squads that do not take part in an event: absent, or excused."""

from storage.records.scores import Absence
from storage.tables.sql_session import Snapshot, Transaction


async def absences(db: Snapshot, tryout_id: int) -> list[Absence]:
    """Who did not take part in what."""
    return await db.all(
        Absence,
        "SELECT absence.* FROM absence JOIN squad ON squad.id = squad_id WHERE tryout_id = ? ORDER BY squad_id, event",
        tryout_id,
    )


async def set_absence(db: Transaction, absence: Absence) -> None:
    """Note an absence, or change it."""
    await db.run(
        "INSERT INTO absence (squad_id, event, excused, reason) VALUES (?, ?, ?, ?) "
        "ON CONFLICT (squad_id, event) DO UPDATE SET excused = excluded.excused, reason = excluded.reason",
        absence.squad_id,
        absence.event,
        absence.excused,
        absence.reason,
    )


async def clear_absence(db: Transaction, squad_id: int, event: str) -> None:
    """The squad did take part."""
    await db.run("DELETE FROM absence WHERE squad_id = ? AND event = ?", squad_id, event)
