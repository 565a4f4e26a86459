"""The sheet into which a judge's typed numbers go."""

from storage.tables.sql_session import Snapshot, Transaction


async def chosen(db: Snapshot, judge_id: int) -> int | None:
    """The sheet a judge chose last, by id."""
    found = await db.value("SELECT sheet_id FROM typed_sheet WHERE judge_id = ?", judge_id)
    return None if found is None else int(found)


async def choose(db: Transaction, judge_id: int, sheet_id: int) -> None:
    """Typed numbers go into this sheet from now on."""
    await db.run(
        "INSERT INTO typed_sheet (judge_id, sheet_id) VALUES (?, ?) "
        "ON CONFLICT (judge_id) DO UPDATE SET sheet_id = excluded.sheet_id",
        judge_id,
        sheet_id,
    )


async def forget(db: Transaction, judge_id: int) -> None:
    """Typed numbers go into whatever sheet comes next."""
    await db.run("DELETE FROM typed_sheet WHERE judge_id = ?", judge_id)
