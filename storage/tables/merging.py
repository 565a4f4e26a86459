"""Two squads become one: what belongs to the one that goes belongs to the other from then on."""

from datetime import datetime

from storage.records.people import Squad
from storage.tables import squads
from storage.tables.sql_session import Snapshot, Transaction


async def merge(db: Transaction, goes: Squad, stays: Squad, now: datetime) -> None:
    """Members, parts of the hand-in, turns, questions, ties of judges and who is here move to the squad that stays.

    Attempts and sheets of the squad that goes stay on record with it, and count no more; it is taken out.
    """
    for member in await squads.members(db, goes.id):
        joined = member.joined_at or now
        await squads.unseat(db, member)
        await squads.seat(db, member, stays.id, joined)
    ids = (stays.id, goes.id)
    await db.run("UPDATE hand_in SET squad_id = ? WHERE squad_id = ?", *ids)
    await db.run("UPDATE practice_turn SET squad_id = ? WHERE squad_id = ? AND state IN ('held', 'lost')", *ids)
    await db.run("UPDATE rules_question SET squad_id = ? WHERE squad_id = ?", *ids)
    await db.run("UPDATE OR IGNORE presence SET squad_id = ? WHERE squad_id = ?", *ids)
    await db.run("UPDATE proposed_seat SET squad_id = ? WHERE squad_id = ?", *ids)
    await db.run(
        "INSERT OR IGNORE INTO conflict_of_interest (judge_id, squad_id, set_by, at) "
        "SELECT judge_id, ?, set_by, at FROM conflict_of_interest WHERE squad_id = ?",
        *ids,
    )
    await db.run("DELETE FROM practice_claim WHERE squad_id = ?", goes.id)
    await squads.withdraw(db, goes.id)


async def held_turns(db: Snapshot, squad_id: int, now: datetime) -> list[datetime]:
    """The turns at the practice table that a squad has still before it."""
    rows = await db.rows(
        "SELECT begins_at FROM practice_turn WHERE squad_id = ? AND state = 'held' ORDER BY begins_at", squad_id
    )
    return [begins for row in rows if (begins := datetime.fromisoformat(row["begins_at"])) > now]


async def scored(db: Snapshot, squad_id: int) -> tuple[int, int]:
    """How many attempts and begun sheets a squad has."""
    attempts = await db.value("SELECT count(*) FROM attempt WHERE squad_id = ? AND undone_at IS NULL", squad_id)
    sheets = await db.value(
        "SELECT count(*) FROM sheet WHERE squad_id = ? AND state IN ('started', 'submitted')", squad_id
    )
    return int(attempts), int(sheets)
