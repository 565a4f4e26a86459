"""Offers of the place: made, answered, given back, taken back."""

from collections.abc import Collection
from datetime import datetime

from storage.records.results import Offer, OfferState
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


async def take_back(db: Transaction, tryout_id: int, states: Collection[OfferState]) -> list[int]:
    """Take back the offers in these states; the ids of the squads concerned."""
    concerned = f"WHERE tryout_id = ? AND state IN ({', '.join('?' * len(states))})"
    rows = await db.rows(f"SELECT squad_id FROM offer {concerned}", tryout_id, *states)
    await db.run(f"DELETE FROM offer {concerned}", tryout_id, *states)
    return [row["squad_id"] for row in rows]


async def any_in(db: Snapshot, tryout_id: int, states: Collection[OfferState]) -> bool:
    """Whether there is an offer in one of these states, to a squad or to a student."""
    marks = ", ".join("?" * len(states))
    sql = " UNION ALL ".join(
        f"SELECT 1 FROM {table} WHERE tryout_id = ? AND state IN ({marks})" for table in ("offer", "member_offer")
    )
    return bool(await db.rows(f"{sql} LIMIT 1", tryout_id, *states, tryout_id, *states))
