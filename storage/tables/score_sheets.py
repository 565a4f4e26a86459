"""Score sheets: handed out, saved version by version, set aside and given back, let go at the close."""

import json
from collections.abc import Iterable, Sequence
from datetime import datetime

from storage.records.score_sheets import Sheet
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def sheets(db: Snapshot, tryout_id: int) -> list[Sheet]:
    """All sheets of judges who were not removed and squads that take part."""
    return await db.all(
        Sheet,
        "SELECT sheet.* FROM sheet JOIN judge ON judge.id = judge_id JOIN squad ON squad.id = squad_id "
        "WHERE judge.tryout_id = ? AND judge.removed = 0 AND squad.withdrawn = 0 "
        "ORDER BY judge.number, position, sheet.id",
        tryout_id,
    )


async def sheets_of(db: Snapshot, judge_id: int) -> list[Sheet]:
    """One judge's sheets for squads that take part, in the order in which the judge meets the squads."""
    return await db.all(
        Sheet,
        "SELECT sheet.* FROM sheet JOIN squad ON squad.id = squad_id "
        "WHERE judge_id = ? AND withdrawn = 0 ORDER BY position, sheet.id",
        judge_id,
    )


async def sheet(db: Snapshot, sheet_id: int) -> Sheet | None:
    """One sheet by id."""
    return await db.one(Sheet, "SELECT * FROM sheet WHERE id = ?", sheet_id)


async def add_sheets(db: Transaction, sheets: Iterable[tuple[int, int, str, str, int]]) -> None:
    """Hand out sheets: judge, squad, event, measure, position. One that is there already only takes the position."""
    await db.run_many(
        "INSERT INTO sheet (judge_id, squad_id, event, measure, position) VALUES (?, ?, ?, ?, ?) "
        "ON CONFLICT (judge_id, squad_id, event, measure) DO UPDATE SET position = excluded.position",
        sheets,
    )


async def save_sheet(
    db: Transaction, sheet: Sheet, state: str, marks: dict[str, int], comments: dict[str, str], now: datetime
) -> int:
    """Save a sheet as its next version, keep that version for good, and return its number."""
    version = sheet.version + 1
    content = (state, json.dumps(marks, sort_keys=True), json.dumps(comments, sort_keys=True, ensure_ascii=False))
    await db.run(
        "UPDATE sheet SET state = ?, marks_json = ?, comments_json = ?, version = ?, updated_at = ? WHERE id = ?",
        *content,
        version,
        stamp(now),
        sheet.id,
    )
    await db.run(
        "INSERT INTO sheet_version (sheet_id, version, state, marks_json, comments_json, at) VALUES (?, ?, ?, ?, ?, ?)",
        sheet.id,
        version,
        *content,
        stamp(now),
    )
    return version


async def content_at(db: Snapshot, sheet_id: int, version: int) -> tuple[dict[str, int], dict[str, str]]:
    """The marks and comments of a sheet as they stood in one of its versions; nothing for version 0."""
    found = await db.rows(
        "SELECT marks_json, comments_json FROM sheet_version WHERE sheet_id = ? AND version = ?", sheet_id, version
    )
    return (json.loads(found[0]["marks_json"]), json.loads(found[0]["comments_json"])) if found else ({}, {})


async def drop_untouched(db: Transaction, sheet_id: int) -> None:
    """Take back a sheet in which nothing was ever saved."""
    await db.run("DELETE FROM sheet WHERE id = ? AND version = 0", sheet_id)


async def set_aside(db: Transaction, sheet: Sheet, now: datetime) -> None:
    """The judge does not mark this squad after all; what stands in the sheet is kept and counts no more."""
    if sheet.version:
        await save_sheet(db, sheet, "recused", sheet.marks, sheet.comments, now)
    else:
        await db.run("UPDATE sheet SET state = 'recused' WHERE id = ?", sheet.id)


async def give_back(db: Transaction, sheet_id: int) -> None:
    """A sheet that was set aside is the judge's again, as it stood before; one that was let go at the close is not."""
    await db.run(
        "UPDATE sheet SET state = coalesce((SELECT state FROM sheet_version WHERE sheet_id = sheet.id "
        "AND state <> 'recused' ORDER BY sheet_version.version DESC LIMIT 1), 'open') "
        "WHERE id = ? AND state = 'recused' AND id NOT IN (SELECT sheet_id FROM missing_at_close)",
        sheet_id,
    )


async def let_go(db: Transaction, sheet_ids: Sequence[int], now: datetime) -> None:
    """Go without these sheets: they are owed no more, and what stands in them is kept and does not count."""
    at = stamp(now)
    await db.run_many("UPDATE sheet SET state = 'recused' WHERE id = ?", [(one,) for one in sheet_ids])
    await db.run_many(
        "INSERT OR IGNORE INTO missing_at_close (sheet_id, at) VALUES (?, ?)", [(one, at) for one in sheet_ids]
    )


async def let_go_ids(db: Snapshot, tryout_id: int) -> set[int]:
    """The sheets that were still missing when judging was closed anyway."""
    found = await db.rows(
        "SELECT sheet_id FROM missing_at_close JOIN sheet ON sheet.id = sheet_id JOIN judge ON judge.id = judge_id "
        "WHERE tryout_id = ?",
        tryout_id,
    )
    return {row["sheet_id"] for row in found}
