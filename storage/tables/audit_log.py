"""The audit log of what was done: entries in a chain of digests."""

import json
from collections.abc import Mapping, Sequence

from storage.records.tryout import AuditEntry
from storage.tables.sql_session import Snapshot, Transaction, Value, stamp


async def last_digest(db: Snapshot) -> str:
    """The digest at the end of the chain; empty at its beginning."""
    return str(await db.value("SELECT digest FROM audit_log ORDER BY seq DESC LIMIT 1") or "")


async def add_entry(db: Transaction, entry: AuditEntry) -> None:
    """Append an entry (its `seq` is ignored)."""
    await db.run(
        "INSERT INTO audit_log (tryout_id, at, actor, action, details_json, previous, digest) "
        "VALUES (?, ?, ?, ?, ?, ?, ?)",
        entry.tryout_id,
        stamp(entry.at),
        entry.actor,
        entry.action,
        json.dumps(entry.details, sort_keys=True, ensure_ascii=False),
        entry.previous,
        entry.digest,
    )


async def last_of(
    db: Snapshot, tryout_id: int, actions: Sequence[str], about: Mapping[str, Value]
) -> AuditEntry | None:
    """The newest entry of one of these actions whose details say all of `about`."""
    says = "".join(f" AND json_extract(details_json, '$.{name}') IS ?" for name in about)
    sql = (
        f"SELECT * FROM audit_log WHERE tryout_id = ? AND action IN ({', '.join('?' * len(actions))}){says} "
        "ORDER BY seq DESC LIMIT 1"
    )
    return await db.one(AuditEntry, sql, tryout_id, *actions, *about.values())


async def names_accounts(db: Snapshot, tryout_id: int) -> bool:
    """Whether entries from before there were pseudonyms name people of this try-out by account number."""
    sql = "SELECT EXISTS (SELECT 1 FROM audit_log WHERE tryout_id = ? AND actor LIKE 'user:%')"
    return bool(await db.value(sql, tryout_id))


async def entries(db: Snapshot, tryout_id: int | None = None) -> list[AuditEntry]:
    """The audit log in order: all of it, or what concerns one try-out."""
    return await db.all(
        AuditEntry, "SELECT * FROM audit_log WHERE ? IS NULL OR tryout_id = ? ORDER BY seq", tryout_id, tryout_id
    )
