"""Offers of the place, and feedback for the squads."""

from datetime import datetime

from storage.records.offers_and_feedback import Feedback, Offer, OfferState
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def offers(db: Snapshot, tryout_id: int) -> list[Offer]:
    """Every offer of a try-out, oldest first."""
    return await db.all(Offer, "SELECT * FROM offer WHERE tryout_id = ? ORDER BY id", tryout_id)


async def offer(db: Snapshot, offer_id: int) -> Offer | None:
    """One offer by id."""
    return await db.one(Offer, "SELECT * FROM offer WHERE id = ?", offer_id)


async def make_offer(
    db: Transaction, tryout_id: int, squad_id: int, what: str, now: datetime, answer_by: datetime
) -> int:
    """Offer the place to a squad and return the offer's id.

    Raises:
        Conflict: the squad has been asked already.
    """
    return await db.insert(
        "INSERT INTO offer (tryout_id, squad_id, what, made_at, answer_by) VALUES (?, ?, ?, ?, ?)",
        tryout_id,
        squad_id,
        what,
        stamp(now),
        stamp(answer_by),
    )


async def settle_offer(db: Transaction, offer_id: int, state: OfferState, now: datetime) -> bool:
    """Note the answer to an open offer, or that it lapsed; False when it was settled already."""
    sql = "UPDATE offer SET state = ?, answered_at = ? WHERE id = ? AND state = 'open'"
    return await db.run(sql, state, stamp(now), offer_id) == 1


async def give_back(db: Transaction, offer_id: int, now: datetime) -> bool:
    """Note that a squad which had accepted gives the place back; False when it does not hold one."""
    sql = "UPDATE offer SET state = 'declined', answered_at = ? WHERE id = ? AND state = 'accepted'"
    return await db.run(sql, stamp(now), offer_id) == 1


async def take_back(db: Transaction, tryout_id: int) -> list[int]:
    """Take back what is offered or accepted; the ids of the squads concerned."""
    rows = await db.rows("SELECT squad_id FROM offer WHERE tryout_id = ? AND state IN ('open', 'accepted')", tryout_id)
    await db.run("DELETE FROM offer WHERE tryout_id = ? AND state IN ('open', 'accepted')", tryout_id)
    return [row["squad_id"] for row in rows]


async def places_given(db: Snapshot, tryout_id: int) -> bool:
    """Whether a place is offered or accepted, to a squad or to a student."""
    sql = " UNION ALL ".join(
        f"SELECT 1 FROM {table} WHERE tryout_id = ? AND state IN ('open', 'accepted')"
        for table in ("offer", "member_offer")
    )
    return bool(await db.rows(f"{sql} LIMIT 1", tryout_id, tryout_id))


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
