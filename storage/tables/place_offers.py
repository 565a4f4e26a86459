"""Offers of the place: made, answered, given back, taken back."""

from datetime import datetime

from storage.records.offers_and_feedback import Offer, OfferState
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
