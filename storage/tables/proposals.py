"""The squads that are proposed for students without one, and what these answer."""

from collections.abc import Iterable
from datetime import datetime

from storage.records.wishes_and_proposals import Proposal, ProposedSeat
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def proposal(db: Snapshot, tryout_id: int) -> Proposal | None:
    """The proposal there is."""
    return await db.one(Proposal, "SELECT * FROM squad_proposal WHERE tryout_id = ?", tryout_id)


async def seats(db: Snapshot, tryout_id: int) -> list[ProposedSeat]:
    """Where each student of the proposal would go; those who have got a squad meanwhile are left out."""
    return await db.all(
        ProposedSeat,
        "SELECT proposed_seat.* FROM proposed_seat JOIN student ON student.id = student_id "
        "WHERE proposed_seat.tryout_id = ? AND student.squad_id IS NULL ORDER BY student_id",
        tryout_id,
    )


async def places(db: Snapshot, tryout_id: int) -> list[tuple[int, int | None, int | None]]:
    """Every place of the proposal, also those that are taken by now: student, squad, new squad."""
    rows = await db.rows(
        "SELECT student_id, squad_id, new_squad FROM proposed_seat WHERE tryout_id = ? ORDER BY student_id", tryout_id
    )
    return [(row["student_id"], row["squad_id"], row["new_squad"]) for row in rows]


async def seat_for(db: Snapshot, student_id: int) -> ProposedSeat | None:
    """Where one student would go, or has said not to go, by a proposal that the coach has accepted."""
    return await db.one(
        ProposedSeat,
        "SELECT proposed_seat.* FROM proposed_seat JOIN squad_proposal USING (tryout_id) WHERE student_id = ? "
        "AND accepted_at IS NOT NULL",
        student_id,
    )


async def draft(db: Transaction, tryout_id: int, made: Iterable[ProposedSeat], now: datetime) -> None:
    """Put a new draft in the place of the proposal there was."""
    await drop(db, tryout_id)
    await db.run("INSERT INTO squad_proposal (tryout_id, made_at) VALUES (?, ?)", tryout_id, stamp(now))
    await db.run_many(
        "INSERT INTO proposed_seat (student_id, tryout_id, squad_id, new_squad) VALUES (?, ?, ?, ?)",
        [(seat.student_id, tryout_id, seat.squad_id, seat.new_squad) for seat in made],
    )


async def drop(db: Transaction, tryout_id: int) -> None:
    """There is no proposal any more."""
    await db.run("DELETE FROM proposed_seat WHERE tryout_id = ?", tryout_id)
    await db.run("DELETE FROM squad_proposal WHERE tryout_id = ?", tryout_id)


async def change(db: Transaction, student_id: int, squad_id: int | None, new_squad: int | None) -> None:
    """Propose another squad for one student, or none."""
    await db.run(
        "UPDATE proposed_seat SET squad_id = ?, new_squad = ?, answer = NULL WHERE student_id = ?",
        squad_id,
        new_squad,
        student_id,
    )


async def accept(db: Transaction, tryout_id: int, now: datetime) -> None:
    """Students may answer from now on."""
    await db.run("UPDATE squad_proposal SET accepted_at = ? WHERE tryout_id = ?", stamp(now), tryout_id)


async def answer(db: Transaction, student_id: int, said: str) -> None:
    """Note what a student has said."""
    await db.run("UPDATE proposed_seat SET answer = ? WHERE student_id = ?", said, student_id)
