"""Who sees whom: how many judges a squad has, and the seats of each panel."""

from collections.abc import Iterable

from storage.records.judging import Seat
from storage.tables.sql_session import Snapshot, Transaction


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
