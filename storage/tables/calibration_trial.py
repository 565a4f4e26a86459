"""Invented entries that all judges mark before the real ones, and their marks, which never count."""

import json
from datetime import datetime

from storage.records.judging import Trial, TrialSheet
from storage.tables.sql_session import Snapshot, Transaction, stamp

_TRIAL = "SELECT id, tryout_id, event, measure, sample, picture_name, opened_at, closed_at FROM calibration"


async def trial(db: Snapshot, tryout_id: int, trial_id: int) -> Trial | None:
    """One trial of a try-out by id, open or not."""
    return await db.one(Trial, f"{_TRIAL} WHERE tryout_id = ? AND id = ?", tryout_id, trial_id)


async def trials(db: Snapshot, tryout_id: int) -> list[Trial]:
    """Every trial of a try-out, oldest first."""
    return await db.all(Trial, f"{_TRIAL} WHERE tryout_id = ? ORDER BY id", tryout_id)


async def forget(db: Transaction, trial_id: int) -> None:
    """The trial and all its marks are gone."""
    await db.run("DELETE FROM calibration_sheet WHERE trial_id = ?", trial_id)
    await db.run("DELETE FROM calibration WHERE id = ?", trial_id)


async def picture(db: Snapshot, trial_id: int) -> bytes | None:
    """The picture of the invented entry, if it has one."""
    found = await db.value("SELECT picture FROM calibration WHERE id = ?", trial_id)
    return None if found is None else bytes(found)


async def begin(
    db: Transaction,
    tryout_id: int,
    about: tuple[str, str],
    sample: str,
    picture: tuple[str, bytes] | None,
    now: datetime,
) -> int:
    """Open a trial for a rubric (`about` is event and measure) and return its id.

    Raises:
        Conflict: one is open already.
    """
    name, data = picture or ("", None)
    return await db.insert(
        "INSERT INTO calibration (tryout_id, event, measure, sample, picture, picture_name, opened_at) "
        "VALUES (?, ?, ?, ?, ?, ?, ?)",
        tryout_id,
        *about,
        sample,
        data,
        name,
        stamp(now),
    )


async def end(db: Transaction, trial_id: int, now: datetime) -> None:
    """The trial is over."""
    await db.run("UPDATE calibration SET closed_at = ? WHERE id = ?", stamp(now), trial_id)


async def drop_picture(db: Transaction, trial_id: int) -> None:
    """Throw the picture of an invented entry away."""
    await db.run("UPDATE calibration SET picture = NULL WHERE id = ?", trial_id)


async def sheets(db: Snapshot, trial_id: int) -> list[TrialSheet]:
    """What has been marked, by judges who were not removed."""
    return await db.all(
        TrialSheet,
        "SELECT calibration_sheet.* FROM calibration_sheet JOIN judge ON judge.id = judge_id "
        "WHERE trial_id = ? AND removed = 0 ORDER BY judge.number",
        trial_id,
    )


async def save(db: Transaction, trial_id: int, judge_id: int, marks: dict[str, int], now: datetime) -> None:
    """Keep a judge's marks for the invented entry."""
    await db.run(
        "INSERT INTO calibration_sheet (trial_id, judge_id, marks_json, updated_at) VALUES (?, ?, ?, ?) "
        "ON CONFLICT (trial_id, judge_id) DO UPDATE SET marks_json = excluded.marks_json, "
        "updated_at = excluded.updated_at",
        trial_id,
        judge_id,
        json.dumps(marks, sort_keys=True),
        stamp(now),
    )
