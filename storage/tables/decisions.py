"""What the coach decided beside the plan, with the reason."""

import json
from datetime import datetime

from storage.records.decisions_and_corrections import Decision
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def decide_plan(
    db: Transaction, tryout_id: int, changes: tuple[str, ...], sha256: str, reason: str, now: datetime
) -> int:
    """Note that the plan was changed after the brief; return the decision's id."""
    return await db.insert(
        "INSERT INTO decision (tryout_id, at, kind, changes_json, sha256, reason) VALUES (?, ?, 'plan', ?, ?, ?)",
        tryout_id,
        stamp(now),
        json.dumps(changes, ensure_ascii=False),
        sha256,
        reason,
    )


async def decide(
    db: Transaction, tryout_id: int, kind: str, squad_id: int, student_id: int | None, reason: str, now: datetime
) -> int:
    """Note an exception for a squad, or for a student in it; return the decision's id."""
    return await db.insert(
        "INSERT INTO decision (tryout_id, at, kind, squad_id, student_id, reason) VALUES (?, ?, ?, ?, ?, ?)",
        tryout_id,
        stamp(now),
        kind,
        squad_id,
        student_id,
        reason,
    )


async def decisions(db: Snapshot, tryout_id: int) -> list[Decision]:
    """Every decision of a try-out, oldest first."""
    return await db.all(Decision, "SELECT * FROM decision WHERE tryout_id = ? ORDER BY id", tryout_id)


async def allowed_small(db: Snapshot, tryout_id: int) -> set[int]:
    """The ids of squads that may take part though they are smaller than the plan says."""
    rows = await db.rows(
        "SELECT squad_id FROM decision WHERE tryout_id = ? AND kind = 'small' AND squad_id IS NOT NULL", tryout_id
    )
    return {row["squad_id"] for row in rows}
