"""Feedback for the squads: written, forgotten after a correction, sent."""

from datetime import datetime

from storage.records.results import Feedback
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def feedbacks(db: Snapshot, tryout_id: int) -> dict[int, Feedback]:
    """The feedback that the coach has edited or sent, by squad id."""
    found = await db.all(
        Feedback,
        "SELECT feedback.* FROM feedback JOIN squad ON squad.id = squad_id WHERE tryout_id = ? ORDER BY squad_id",
        tryout_id,
    )
    return {one.squad_id: one for one in found}


async def keep_feedback(db: Transaction, squad_id: int, text: str, now: datetime) -> None:
    """Keep a feedback as the coach wants it; it counts as not sent again."""
    await db.run(
        "INSERT INTO feedback (squad_id, text, edited_at) VALUES (?, ?, ?) ON CONFLICT (squad_id) "
        "DO UPDATE SET text = excluded.text, edited_at = excluded.edited_at, sent_at = NULL",
        squad_id,
        text,
        stamp(now),
    )


async def forget_feedback(db: Transaction, squad_id: int) -> None:
    """Nothing is kept for a squad any more: its feedback is drafted anew."""
    await db.run("DELETE FROM feedback WHERE squad_id = ?", squad_id)


async def feedback_not_sent(db: Transaction, squad_id: int) -> None:
    """What is kept for a squad counts as not sent."""
    await db.run("UPDATE feedback SET sent_at = NULL WHERE squad_id = ?", squad_id)


async def feedback_sent(db: Transaction, squad_id: int, text: str, now: datetime) -> None:
    """Note the feedback that a squad was sent."""
    await db.run(
        "INSERT INTO feedback (squad_id, text, edited_at, sent_at) VALUES (?, ?, ?, ?) "
        "ON CONFLICT (squad_id) DO UPDATE SET sent_at = excluded.sent_at",
        squad_id,
        text,
        stamp(now),
        stamp(now),
    )
