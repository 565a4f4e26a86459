"""The class list, who has picked which name, and who wanted a name that is taken."""

import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime

from storage.records.class_list import ClaimKind, ClassList, ClassListEntry
from storage.tables.sql_session import Snapshot, Transaction, stamp

_ENTRY = "SELECT id, tryout_id, name, folded, section, answers_json, student_id FROM class_list_entry"


async def class_list(db: Snapshot, tryout_id: int) -> ClassList | None:
    """The list of a try-out; None where anybody may sign up."""
    return await db.one(ClassList, "SELECT * FROM class_list WHERE tryout_id = ?", tryout_id)


async def entries(db: Snapshot, tryout_id: int) -> list[ClassListEntry]:
    """All names on the list, in the order in which they were put on it."""
    return await db.all(ClassListEntry, f"{_ENTRY} WHERE tryout_id = ? ORDER BY id", tryout_id)


async def entry(db: Snapshot, tryout_id: int, entry_id: int) -> ClassListEntry | None:
    """One name on the list of a try-out."""
    return await db.one(ClassListEntry, f"{_ENTRY} WHERE tryout_id = ? AND id = ?", tryout_id, entry_id)


async def entry_of(db: Snapshot, student_id: int) -> ClassListEntry | None:
    """The name on the list that belongs to a student."""
    return await db.one(ClassListEntry, f"{_ENTRY} WHERE student_id = ?", student_id)


async def replace_list(
    db: Transaction,
    tryout_id: int,
    columns: Sequence[str],
    rows: Iterable[tuple[str, str, str, Mapping[str, bool]]],
    now: datetime,
) -> None:
    """Put a list in the place of the one there was; a row is name, folded name, section and answers.

    Raises:
        Conflict: two rows have the same section and folded name.
    """
    await remove_list(db, tryout_id)
    await db.run(
        "INSERT INTO class_list (tryout_id, columns_json, loaded_at) VALUES (?, ?, ?)",
        tryout_id,
        json.dumps(list(columns), ensure_ascii=False),
        stamp(now),
    )
    await db.run_many(
        "INSERT INTO class_list_entry (tryout_id, name, folded, section, answers_json) VALUES (?, ?, ?, ?, ?)",
        [
            (tryout_id, name, folded, section, json.dumps(dict(answers), ensure_ascii=False))
            for name, folded, section, answers in rows
        ],
    )


async def remove_list(db: Transaction, tryout_id: int) -> None:
    """Erase the list with all its names and columns; students who have signed up stay."""
    await db.run("DELETE FROM class_list_entry WHERE tryout_id = ?", tryout_id)
    await db.run("DELETE FROM class_list WHERE tryout_id = ?", tryout_id)


async def link(db: Transaction, entry_id: int, student_id: int | None) -> None:
    """Say which student a name on the list is; None for nobody yet.

    Raises:
        Conflict: the student is another name on the list already.
    """
    await db.run("UPDATE class_list_entry SET student_id = ? WHERE id = ?", student_id, entry_id)


async def add_entry(db: Transaction, tryout_id: int, name: str, folded: str, section: str, student_id: int) -> None:
    """Put a student whom the coach lets in on the list; no column is answered with yes.

    Raises:
        Conflict: that name stands in that section already.
    """
    await db.run(
        "INSERT INTO class_list_entry (tryout_id, name, folded, section, answers_json, student_id) "
        "VALUES (?, ?, ?, ?, '{}', ?)",
        tryout_id,
        name,
        folded,
        section,
        student_id,
    )


async def rename_entry(db: Transaction, student_id: int, name: str, folded: str, section: str) -> None:
    """Let the list follow a student's corrected name and section.

    Raises:
        Conflict: another entry has that name and section.
    """
    await db.run(
        "UPDATE class_list_entry SET name = ?, folded = ?, section = ? WHERE student_id = ?",
        name,
        folded,
        section,
        student_id,
    )


async def set_answers(db: Transaction, entry_id: int, answers: Mapping[str, bool]) -> None:
    """Change the yes/no columns of one name."""
    await db.run(
        "UPDATE class_list_entry SET answers_json = ? WHERE id = ?",
        json.dumps(dict(answers), ensure_ascii=False),
        entry_id,
    )


async def claims_by(db: Snapshot, tryout_id: int, claimed_by: str) -> int:
    """How many names that are taken somebody (a pseudonym) has picked."""
    sql = (
        "SELECT count(*) FROM name_claim JOIN class_list_entry ON class_list_entry.id = entry_id "
        "WHERE tryout_id = ? AND claimed_by = ?"
    )
    return int(await db.value(sql, tryout_id, claimed_by))


async def claim(db: Transaction, entry_id: int, claimed_by: str, kind: ClaimKind) -> bool:
    """Note that somebody (a pseudonym) picked a name that is taken; False when that had been noted before."""
    sql = "INSERT OR IGNORE INTO name_claim (entry_id, claimed_by, kind) VALUES (?, ?, ?)"
    return await db.run(sql, entry_id, claimed_by, kind) == 1
