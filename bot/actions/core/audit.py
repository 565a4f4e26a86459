"""The audit log: what was done, when, by whom, each entry chained to the one before."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from bot.rules.core.audit_pseudonyms import pseudonym
from bot.rules.core.hash_chain import content, link
from storage.records.request import Request
from storage.records.tryout import AuditEntry, Tryout
from storage.tables import audit_log
from storage.tables.sql_session import Transaction


async def append_entry(
    db: Transaction, tryout_id: int | None, at: datetime, actor: str, action: str, details: Mapping[str, Any]
) -> None:
    """Append one entry. `details` holds ids, numbers and pseudonyms only: a name could not be forgotten later."""
    entry = AuditEntry(
        seq=0,
        tryout_id=tryout_id,
        at=at,
        actor=actor,
        action=action,
        details=dict(details),
        previous=await audit_log.last_digest(db),
        digest="",
    )
    await audit_log.add_entry(db, entry.model_copy(update={"digest": link(entry.previous, content(entry))}))


def actor_of(tryout: Tryout, account: int) -> str:
    """How an account stands in the audit log of a try-out."""
    return pseudonym(tryout.audit_key, account)


async def audit(db: Transaction, tryout: Tryout, request: Request, action: str, **details: Any) -> None:
    """Write into the audit log what a person did."""
    await append_entry(db, tryout.id, request.at, actor_of(tryout, request.who), action, details)
