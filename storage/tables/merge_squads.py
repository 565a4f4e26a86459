"""Two squads become one: what belongs to the one that goes belongs to the other from then on."""

from datetime import datetime

from storage.records.people import Squad
from storage.tables import squads, students
from storage.tables.sql_session import Snapshot, Transaction


async def merge(db: Transaction, goes: Squad, stays: Squad, now: datetime) -> None:
    """Members, parts of the hand-in, turns, questions, times and who is here move to the squad that stays.

    Where there can be one row only and each has one, that of the squad that stays survives (who is here, a time of the
    day). Attempts and sheets of the squad that goes stay on record with it, and count no more; the caller takes it out.
    """
    for member in await squads.members(db, goes.id):
        joined = member.joined_at or now
        await students.unseat(db, member)
        await students.seat(db, member, stays.id, joined)
    ids = (stays.id, goes.id)
    await db.run("UPDATE hand_in SET squad_id = ? WHERE squad_id = ?", *ids)
    await db.run("UPDATE practice_turn SET squad_id = ? WHERE squad_id = ? AND state IN ('held', 'lost')", *ids)
    await db.run("UPDATE rules_question SET squad_id = ? WHERE squad_id = ?", *ids)
    await db.run("UPDATE OR IGNORE presence SET squad_id = ? WHERE squad_id = ?", *ids)
    await db.run("UPDATE proposed_seat SET squad_id = ? WHERE squad_id = ?", *ids)
    await db.run("UPDATE OR IGNORE day_slot SET squad_id = ? WHERE squad_id = ?", *ids)
    await db.run("DELETE FROM practice_claim WHERE squad_id = ?", goes.id)


async def held_turns(db: Snapshot, squad_id: int, now: datetime) -> list[datetime]:
    """The turns at the practice table that a squad has still before it."""
    rows = await db.rows(
        "SELECT begins_at FROM practice_turn WHERE squad_id = ? AND state = 'held' ORDER BY begins_at", squad_id
    )
    return [begins for row in rows if (begins := datetime.fromisoformat(row["begins_at"])) > now]


async def scored(db: Snapshot, squad_id: int) -> dict[str, tuple[int, int]]:
    """By event in which a squad has any: how many attempts and begun sheets."""
    rows = await db.rows(
        "SELECT event, sum(attempts) AS attempts, sum(sheets) AS sheets FROM ("
        "SELECT event, 1 AS attempts, 0 AS sheets FROM attempt WHERE squad_id = ?1 AND undone_at IS NULL UNION ALL "
        "SELECT event, 0, 1 FROM sheet WHERE squad_id = ?1 AND state IN ('started', 'submitted')) GROUP BY event",
        squad_id,
    )
    return {row["event"]: (row["attempts"], row["sheets"]) for row in rows}


_OF_EVENT = ("attempt", "absence", "sheet", "panel_seat", "pad_run", "run_entry", "surprise_wave")
"""Tables of what a squad has done, or is to do, in one event."""


async def swap_event(db: Transaction, one: int, other: int, event: str) -> None:
    """What each of two squads has in an event is the other's from then on: attempts, absences, sheets and panels."""
    # Parked under no squad for a moment, because each has a place of its own only once.
    await db.run("PRAGMA defer_foreign_keys = ON")
    for table in _OF_EVENT:
        sql = f"UPDATE {table} SET squad_id = ? WHERE squad_id = ? AND event = ?"
        await db.run(sql, -one, one, event)
        await db.run(sql, one, other, event)
        await db.run(sql, other, -one, event)
