"""Processed interactions, each with its first answer, and the audit log of what was done."""

import json
from datetime import datetime

from pydantic import ConfigDict, TypeAdapter

from storage.records.message import Answer
from storage.records.tryout import AuditEntry
from storage.tables.sql_session import Snapshot, Transaction, stamp

_ANSWER: TypeAdapter[Answer] = TypeAdapter(Answer, config=ConfigDict(defer_build=True))


async def first_answer(db: Snapshot, interaction_id: int) -> Answer | None:
    """The answer an interaction got the first time it came."""
    found = await db.value("SELECT answer_json FROM processed_interaction WHERE interaction_id = ?", interaction_id)
    return None if found is None else _ANSWER.validate_json(found)


async def keep_answer(db: Transaction, interaction_id: int, answer: Answer, now: datetime) -> None:
    """Keep the answer to an interaction."""
    await db.run(
        "INSERT INTO processed_interaction (interaction_id, at, answer_json) VALUES (?, ?, ?)",
        interaction_id,
        stamp(now),
        answer.model_dump_json(),
    )


async def drop_answers(db: Transaction, before: datetime) -> int:
    """Forget first answers older than this; the platform repeats events within minutes."""
    return await db.run("DELETE FROM processed_interaction WHERE at < ?", stamp(before))


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


async def names_accounts(db: Snapshot, tryout_id: int) -> bool:
    """Whether entries from before there were pseudonyms name people of this try-out by account number."""
    sql = "SELECT EXISTS (SELECT 1 FROM audit_log WHERE tryout_id = ? AND actor LIKE 'user:%')"
    return bool(await db.value(sql, tryout_id))


async def entries(db: Snapshot, tryout_id: int | None = None) -> list[AuditEntry]:
    """The audit log in order: all of it, or what concerns one try-out."""
    return await db.all(
        AuditEntry, "SELECT * FROM audit_log WHERE ? IS NULL OR tryout_id = ? ORDER BY seq", tryout_id, tryout_id
    )
