"""The audit log: what was done, when, by whom, each entry chained to the one before."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from bot.rules.core.hash_chain import content, link
from storage.records.tryout import AuditEntry
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
