"""Paper sheets as they were typed in, the first and the second time."""

import json

from storage.records.judging import PaperEntry
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def entries(db: Snapshot, sheet_id: int) -> list[PaperEntry]:
    """What has been typed in for a sheet, the first entry first."""
    return await db.all(PaperEntry, "SELECT * FROM paper_entry WHERE sheet_id = ? ORDER BY number", sheet_id)


async def numbers(db: Snapshot, tryout_id: int) -> dict[int, int]:
    """How many entries each sheet has, by sheet id; sheets without any are left out."""
    rows = await db.rows(
        "SELECT sheet_id, count(*) AS entries FROM paper_entry JOIN sheet ON sheet.id = sheet_id "
        "JOIN judge ON judge.id = judge_id WHERE judge.tryout_id = ? GROUP BY sheet_id",
        tryout_id,
    )
    return {row["sheet_id"]: row["entries"] for row in rows}


async def keep(db: Transaction, entry: PaperEntry) -> None:
    """Keep an entry, or what has been added to it."""
    await db.run(
        "INSERT INTO paper_entry (sheet_id, number, entered_by, marks_json, comments_json, at) "
        "VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (sheet_id, number) DO UPDATE SET entered_by = excluded.entered_by, "
        "marks_json = excluded.marks_json, comments_json = excluded.comments_json, at = excluded.at",
        entry.sheet_id,
        entry.number,
        entry.entered_by,
        json.dumps(entry.marks, sort_keys=True),
        json.dumps(entry.comments, sort_keys=True, ensure_ascii=False),
        stamp(entry.at),
    )


async def start_over(db: Transaction, sheet_id: int) -> None:
    """Throw both entries of a sheet away."""
    await db.run("DELETE FROM paper_entry WHERE sheet_id = ?", sheet_id)
