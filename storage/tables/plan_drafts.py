"""A changed plan that waits for a yes, and who has asked for it."""

from datetime import datetime

from storage.records.plan import Plan
from storage.records.plan_drafts import PlanDraft, PlanProposal
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
