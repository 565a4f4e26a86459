"""Ties of interest: which judge knows somebody in which squad, or is a member of it."""

from datetime import datetime

from storage.records.judging import TieOfInterest
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def ties(db: Snapshot, tryout_id: int) -> list[TieOfInterest]:
    """All ties of judges who were not removed, by judge and squad."""
    return await db.all(
        TieOfInterest,
        "SELECT conflict_of_interest.* FROM conflict_of_interest JOIN judge ON judge.id = judge_id "
        "JOIN squad ON squad.id = squad_id WHERE judge.tryout_id = ? AND removed = 0 AND withdrawn = 0 "
        "ORDER BY judge.number, squad.number",
        tryout_id,
    )


async def own_squads(db: Snapshot, tryout_id: int) -> list[tuple[int, int]]:
    """Judges who are members of a squad themselves, as (squad, judge): a tie that nobody has to declare."""
    rows = await db.rows(
        "SELECT student.squad_id, judge.id AS judge_id FROM judge JOIN student ON student.tryout_id = judge.tryout_id "
        "AND student.platform_id = judge.platform_id WHERE judge.tryout_id = ? AND student.squad_id IS NOT NULL",
        tryout_id,
    )
    return [(row["squad_id"], row["judge_id"]) for row in rows]


async def tie(db: Transaction, judge_id: int, squad_id: int, set_by: str, now: datetime) -> None:
    """Note a tie; who set it first stands."""
    await db.run(
        "INSERT OR IGNORE INTO conflict_of_interest (judge_id, squad_id, set_by, at) VALUES (?, ?, ?, ?)",
        judge_id,
        squad_id,
        set_by,
        stamp(now),
    )


async def untie(db: Transaction, judge_id: int, squad_id: int) -> None:
    """There is no tie after all."""
    await db.run("DELETE FROM conflict_of_interest WHERE judge_id = ? AND squad_id = ?", judge_id, squad_id)
