"""Who sees whom: how many judges a squad has, the seats of each panel, and ties of interest."""

from collections.abc import Iterable
from datetime import datetime

from storage.records.judging import Seat, TieOfInterest
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def size(db: Snapshot, tryout_id: int, event: str, measure: str) -> int | None:
    """How many judges see each squad when the coach chose so (0: all); None when the plan decides."""
    found = await db.value(
        "SELECT judges FROM panel_size WHERE tryout_id = ? AND event = ? AND measure = ?", tryout_id, event, measure
    )
    return None if found is None else int(found)


async def set_size(db: Transaction, tryout_id: int, event: str, measure: str, judges: int) -> None:
    """Choose how many judges see each squad; 0 means all of them."""
    await db.run(
        "INSERT INTO panel_size (tryout_id, event, measure, judges) VALUES (?, ?, ?, ?) "
        "ON CONFLICT (tryout_id, event, measure) DO UPDATE SET judges = excluded.judges",
        tryout_id,
        event,
        measure,
        judges,
    )


async def seats(db: Snapshot, tryout_id: int, event: str, measure: str) -> list[Seat]:
    """The seats of one panel: judges who were not removed, squads that take part."""
    return await db.all(
        Seat,
        "SELECT panel_seat.* FROM panel_seat JOIN judge ON judge.id = judge_id JOIN squad ON squad.id = squad_id "
        "WHERE judge.tryout_id = ? AND event = ? AND measure = ? AND judge.removed = 0 AND squad.withdrawn = 0 "
        "ORDER BY squad.number, judge.number",
        tryout_id,
        event,
        measure,
    )


async def replace_seats(
    db: Transaction, tryout_id: int, event: str, measure: str, new: Iterable[Seat], squad_id: int | None = None
) -> None:
    """Replace all seats of one panel, or only those of one squad."""
    await db.run(
        "DELETE FROM panel_seat WHERE event = ? AND measure = ? AND (? IS NULL OR squad_id = ?) "
        "AND judge_id IN (SELECT id FROM judge WHERE tryout_id = ?)",
        event,
        measure,
        squad_id,
        squad_id,
        tryout_id,
    )
    await _add_seats(db, new)


async def add_seat(db: Transaction, seat: Seat) -> None:
    """Seat a judge; once is enough."""
    await _add_seats(db, [seat])


async def _add_seats(db: Transaction, new: Iterable[Seat]) -> None:
    await db.run_many(
        "INSERT INTO panel_seat (judge_id, squad_id, event, measure, pinned) VALUES (?, ?, ?, ?, ?) "
        "ON CONFLICT (judge_id, squad_id, event, measure) DO UPDATE SET pinned = excluded.pinned",
        [(seat.judge_id, seat.squad_id, seat.event, seat.measure, seat.pinned) for seat in new],
    )


async def unpin(db: Transaction, tryout_id: int, event: str, measure: str) -> None:
    """Let go of everything the coach set by hand; the seats stay until the panel is computed again."""
    await db.run(
        "UPDATE panel_seat SET pinned = 0 WHERE event = ? AND measure = ? "
        "AND judge_id IN (SELECT id FROM judge WHERE tryout_id = ?)",
        event,
        measure,
        tryout_id,
    )


async def take_seat(db: Transaction, judge_id: int, squad_id: int) -> list[Seat]:
    """Take a judge off a squad's panels, and return the seats that are empty now."""
    lost = await db.all(Seat, "SELECT * FROM panel_seat WHERE judge_id = ? AND squad_id = ?", judge_id, squad_id)
    await db.run("DELETE FROM panel_seat WHERE judge_id = ? AND squad_id = ?", judge_id, squad_id)
    return lost


async def ties(db: Snapshot, tryout_id: int) -> list[TieOfInterest]:
    """All ties of judges who were not removed, by judge and squad."""
    return await db.all(
        TieOfInterest,
        "SELECT conflict_of_interest.* FROM conflict_of_interest JOIN judge ON judge.id = judge_id "
        "JOIN squad ON squad.id = squad_id WHERE judge.tryout_id = ? AND removed = 0 AND withdrawn = 0 "
        "ORDER BY judge.number, squad.number",
        tryout_id,
    )


async def own_squads(db: Snapshot, tryout_id: int) -> list[tuple[int, int]]:
    """Judges who are members of a squad themselves, as (squad, judge): a tie that nobody has to declare."""
    rows = await db.rows(
        "SELECT student.squad_id, judge.id AS judge_id FROM judge JOIN student ON student.tryout_id = judge.tryout_id "
        "AND student.platform_id = judge.platform_id WHERE judge.tryout_id = ? AND student.squad_id IS NOT NULL",
        tryout_id,
    )
    return [(row["squad_id"], row["judge_id"]) for row in rows]


async def tie(db: Transaction, judge_id: int, squad_id: int, set_by: str, now: datetime) -> None:
    """Note a tie; who set it first stands."""
    await db.run(
        "INSERT OR IGNORE INTO conflict_of_interest (judge_id, squad_id, set_by, at) VALUES (?, ?, ?, ?)",
        judge_id,
        squad_id,
        set_by,
        stamp(now),
    )


async def untie(db: Transaction, judge_id: int, squad_id: int) -> None:
    """There is no tie after all."""
    await db.run("DELETE FROM conflict_of_interest WHERE judge_id = ? AND squad_id = ?", judge_id, squad_id)
