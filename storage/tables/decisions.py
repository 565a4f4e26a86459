"""Changed plans that wait for a yes, and what the coach decided beside the plan."""

import json
from datetime import datetime

from storage.records.decisions import Decision, PlanDraft, PlanProposal
from storage.records.plan import Plan
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def draft(db: Snapshot, tryout_id: int) -> PlanDraft | None:
    """The changed plan that waits, if any."""
    return await db.one(PlanDraft, "SELECT * FROM plan_draft WHERE tryout_id = ?", tryout_id)


async def keep_draft(db: Transaction, tryout_id: int, plan: Plan, reason: str) -> None:
    """Let a changed plan wait; it takes the place of an earlier one."""
    await db.run(
        "INSERT INTO plan_draft (tryout_id, plan_json, reason) VALUES (?, ?, ?) "
        "ON CONFLICT (tryout_id) DO UPDATE SET plan_json = excluded.plan_json, reason = excluded.reason",
        tryout_id,
        plan.model_dump_json(),
        reason,
    )


async def propose(db: Transaction, tryout_id: int, plan_stamp: str, proposed_by: str, now: datetime) -> None:
    """Note who (a pseudonym) proposed a plan, and when first."""
    await db.run(
        "INSERT OR IGNORE INTO plan_proposal (tryout_id, stamp, proposed_by, proposed_at) VALUES (?, ?, ?, ?)",
        tryout_id,
        plan_stamp,
        proposed_by,
        stamp(now),
    )


async def proposals(db: Snapshot, tryout_id: int, plan_stamp: str) -> list[PlanProposal]:
    """Who has proposed this very plan."""
    sql = "SELECT * FROM plan_proposal WHERE tryout_id = ? AND stamp = ?"
    return await db.all(PlanProposal, sql, tryout_id, plan_stamp)


async def drop_draft(db: Transaction, tryout_id: int) -> None:
    """No changed plan waits any more."""
    await db.run("DELETE FROM plan_draft WHERE tryout_id = ?", tryout_id)


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
