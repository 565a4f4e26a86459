"""Processed interactions, each with its first answer, which is given again when the platform repeats one."""

from datetime import datetime

from pydantic import ConfigDict, TypeAdapter

from storage.records.message import Answer
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


async def drop_older(db: Transaction, before: datetime) -> int:
    """Forget interactions before this, with their first answers; the platform repeats events within minutes."""
    return await db.run("DELETE FROM processed_interaction WHERE at < ?", stamp(before))
