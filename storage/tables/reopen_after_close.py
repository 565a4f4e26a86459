"""Sheets that are opened again after the close, and what coaches have asked to be opened again."""

from datetime import datetime

from storage.records.judging import Reopening, ReopeningRequest
from storage.tables.sql_session import Conflict, Snapshot, Transaction, stamp


async def reopenings(db: Snapshot, tryout_id: int) -> dict[int, Reopening]:
    """The sheets that are open again now, by sheet id."""
    found = await db.all(
        Reopening,
        "SELECT reopening.* FROM reopening JOIN sheet ON sheet.id = sheet_id JOIN judge ON judge.id = judge_id "
        "WHERE tryout_id = ? AND done_at IS NULL",
        tryout_id,
    )
    return {one.sheet_id: one for one in found}


async def reopen(db: Transaction, sheet_id: int, reason: str, now: datetime) -> None:
    """Open one sheet again; a sheet that had been let go is owed again.

    Raises:
        Conflict: it is open again already.
    """
    await db.run(
        "UPDATE sheet SET state = iif(marks_json = '{}', 'open', 'started') "
        "WHERE id = ? AND id IN (SELECT sheet_id FROM missing_at_close)",
        sheet_id,
    )
    await db.run("DELETE FROM missing_at_close WHERE sheet_id = ?", sheet_id)
    await db.insert("INSERT INTO reopening (sheet_id, reason, at) VALUES (?, ?, ?)", sheet_id, reason, stamp(now))


async def shut_again(db: Transaction, sheet_id: int, now: datetime) -> None:
    """The reopened sheet was handed in once more."""
    await db.run("UPDATE reopening SET done_at = ? WHERE sheet_id = ? AND done_at IS NULL", stamp(now), sheet_id)


async def ask_to_reopen(
    db: Transaction, tryout_id: int, sheet_id: int | None, reason: str, asked_by: str, now: datetime
) -> int:
    """Note who (a pseudonym) wants judging, or one sheet, to be opened again; the id of the request."""
    return await db.insert(
        "INSERT INTO reopening_request (tryout_id, sheet_id, reason, asked_by, asked_at) VALUES (?, ?, ?, ?, ?)",
        tryout_id,
        sheet_id,
        reason,
        asked_by,
        stamp(now),
    )


async def requests_to_reopen(db: Snapshot, tryout_id: int) -> list[ReopeningRequest]:
    """Every request, oldest first."""
    sql = "SELECT * FROM reopening_request WHERE tryout_id = ? ORDER BY id"
    return await db.all(ReopeningRequest, sql, tryout_id)


async def agree_to_reopen(db: Transaction, request_id: int, now: datetime) -> None:
    """The request is granted.

    Raises:
        Conflict: it was before, or it is over.
    """
    sql = "UPDATE reopening_request SET agreed_at = ? WHERE id = ? AND agreed_at IS NULL AND shut_at IS NULL"
    if not await db.run(sql, stamp(now), request_id):
        raise Conflict("agreed to before")


async def shut_requests(db: Transaction, tryout_id: int, now: datetime) -> None:
    """What was asked to be opened again and not agreed to is over."""
    sql = "UPDATE reopening_request SET shut_at = ? WHERE tryout_id = ? AND agreed_at IS NULL AND shut_at IS NULL"
    await db.run(sql, stamp(now), tryout_id)


async def open_again(db: Transaction, tryout_id: int) -> None:
    """Judging goes on: every event is open again, and the sheets that were let go are owed again."""
    await db.run("UPDATE judged_event SET closed_at = NULL WHERE tryout_id = ?", tryout_id)
    await db.run(
        "UPDATE sheet SET state = iif(marks_json = '{}', 'open', 'started') "
        "WHERE id IN (SELECT sheet_id FROM missing_at_close "
        "JOIN sheet ON sheet.id = sheet_id JOIN judge ON judge.id = judge_id WHERE tryout_id = ?)",
        tryout_id,
    )
    await db.run(
        "DELETE FROM missing_at_close WHERE sheet_id IN "
        "(SELECT sheet.id FROM sheet JOIN judge ON judge.id = judge_id WHERE tryout_id = ?)",
        tryout_id,
    )


async def shut_all_again(db: Transaction, tryout_id: int, now: datetime) -> None:
    """No sheet is open again any more."""
    await db.run(
        "UPDATE reopening SET done_at = ? WHERE done_at IS NULL AND sheet_id IN "
        "(SELECT sheet.id FROM sheet JOIN judge ON judge.id = judge_id WHERE tryout_id = ?)",
        stamp(now),
        tryout_id,
    )
