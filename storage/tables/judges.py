"""Judges: enrolled under a number, asked, and let go."""

from datetime import datetime

from storage.records.people import Judge
from storage.tables.sql_session import Snapshot, Transaction, stamp


async def judges(db: Snapshot, tryout_id: int) -> list[Judge]:
    """The judges of a try-out who were not removed, by number."""
    return await db.all(Judge, "SELECT * FROM judge WHERE tryout_id = ? AND removed = 0 ORDER BY number", tryout_id)


async def judge(db: Snapshot, judge_id: int) -> Judge | None:
    """One judge by id, removed or not."""
    return await db.one(Judge, "SELECT * FROM judge WHERE id = ?", judge_id)


async def judge_of(db: Snapshot, tryout_id: int, platform_id: int) -> Judge | None:
    """The judge behind a chat account, unless removed."""
    return await db.one(
        Judge, "SELECT * FROM judge WHERE tryout_id = ? AND platform_id = ? AND removed = 0", tryout_id, platform_id
    )


async def ever_judge(db: Snapshot, tryout_id: int, platform_id: int) -> Judge | None:
    """The judge behind a chat account, removed or not."""
    return await db.one(Judge, "SELECT * FROM judge WHERE tryout_id = ? AND platform_id = ?", tryout_id, platform_id)


async def last_number(db: Snapshot, tryout_id: int) -> int:
    """The highest number that a judge has or had; 0 before the first."""
    return int(await db.value("SELECT coalesce(max(number), 0) FROM judge WHERE tryout_id = ?", tryout_id))


async def add(db: Transaction, tryout_id: int, number: int, platform_id: int, name: str) -> int:
    """Enter a judge; return the id.

    Raises:
        Conflict: the account was a judge of this try-out before, or the number is taken.
    """
    return await db.insert(
        "INSERT INTO judge (tryout_id, number, platform_id, name) VALUES (?, ?, ?, ?)",
        tryout_id,
        number,
        platform_id,
        name,
    )


async def restore(db: Transaction, judge_id: int, number: int, name: str) -> None:
    """A judge who was removed is one again, with all sheets, under the name the class server shows now."""
    await db.run("UPDATE judge SET removed = 0, number = ?, name = ? WHERE id = ?", number, name, judge_id)


async def set_weight(db: Transaction, judge_id: int, weight: str) -> None:
    """How much a judge's sheets count; 0 is shown and not counted."""
    await db.run("UPDATE judge SET weight = ? WHERE id = ?", weight, judge_id)


async def opt_in(db: Transaction, judge_id: int, name: str, now: datetime) -> None:
    """The judge agreed to get direct messages, under the name the class server shows now."""
    await db.run(
        "UPDATE judge SET opted_in_at = coalesce(opted_in_at, ?), name = ? WHERE id = ?", stamp(now), name, judge_id
    )


async def note_declined(db: Transaction, judge_id: int, now: datetime) -> None:
    """Note that the coach has been told that a judge cannot judge."""
    await db.run("UPDATE judge SET declined_at = ? WHERE id = ?", stamp(now), judge_id)


async def set_direct(db: Transaction, judge_id: int, channel_id: int | None) -> None:
    """Note the direct-message channel of a judge."""
    await db.run("UPDATE judge SET direct_id = ? WHERE id = ?", channel_id, judge_id)


async def remove(db: Transaction, judge_id: int) -> None:
    """Take a judge off the panel; sheets that were submitted stay in the audit log and count no more."""
    await db.run("UPDATE judge SET removed = 1 WHERE id = ?", judge_id)
