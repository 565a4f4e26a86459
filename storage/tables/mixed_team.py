"""Places offered to single students of several squads."""

from collections.abc import Collection
from datetime import datetime

from storage.records.results import MemberOffer
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def offers(db: Snapshot, tryout_id: int) -> list[MemberOffer]:
    """Every place offered to a student, in the order of offering."""
    return await db.all(
        MemberOffer, "SELECT * FROM member_offer WHERE tryout_id = ? ORDER BY made_at, student_id", tryout_id
    )


async def offer_of(db: Snapshot, student_id: int) -> MemberOffer | None:
    """What is offered to one student."""
    return await db.one(MemberOffer, "SELECT * FROM member_offer WHERE student_id = ?", student_id)


async def offer(db: Transaction, tryout_id: int, student_id: int, now: datetime, answer_by: datetime | None) -> None:
    """Offer a place, to be answered until then; without such a moment keep a student as an alternate.

    An earlier answer is forgotten.
    """
    await db.run(
        "INSERT INTO member_offer (student_id, tryout_id, state, made_at, answer_by) VALUES (?, ?, ?, ?, ?) "
        "ON CONFLICT (student_id) DO UPDATE SET state = excluded.state, made_at = excluded.made_at, "
        "answer_by = excluded.answer_by, answered_at = NULL",
        student_id,
        tryout_id,
        "alternate" if answer_by is None else "open",
        stamp(now),
        None if answer_by is None else stamp(answer_by),
    )


async def answer(db: Transaction, student_id: int, state: str, now: datetime) -> None:
    """Note what a student has said to an open offer, or that it lapsed."""
    await db.run(
        "UPDATE member_offer SET state = ?, answered_at = ? WHERE student_id = ? AND state = 'open'",
        state,
        stamp(now),
        student_id,
    )


async def take_back(db: Transaction, student_id: int) -> None:
    """The student is offered nothing any more."""
    await db.run("DELETE FROM member_offer WHERE student_id = ?", student_id)


async def take_all_back(db: Transaction, tryout_id: int, states: Collection[str]) -> list[int]:
    """Take back the offers in these states; the ids of the squads concerned."""
    marks = ", ".join("?" * len(states))
    rows = await db.rows(
        "SELECT DISTINCT squad_id FROM member_offer JOIN student ON student.id = student_id "
        f"WHERE member_offer.tryout_id = ? AND state IN ({marks}) AND squad_id IS NOT NULL",
        tryout_id,
        *states,
    )
    await db.run(f"DELETE FROM member_offer WHERE tryout_id = ? AND state IN ({marks})", tryout_id, *states)
    return [row["squad_id"] for row in rows]
