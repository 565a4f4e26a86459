"""Squads: found, renamed, led, taken out; their members, and how large the roster is."""

import json
from collections.abc import Iterable
from datetime import datetime

from storage.records.people import Squad, Student
from storage.tables import squad_room_members
from storage.tables.sql_session import Snapshot, Transaction, stamp

_COLUMNS = "id, tryout_id, number, name, section, captain_id, join_code, room_id, withdrawn, created_at"
_SQUAD = f"SELECT {_COLUMNS} FROM squad"


async def squad(db: Snapshot, squad_id: int) -> Squad | None:
    """One squad by id, withdrawn or not."""
    return await db.one(Squad, f"{_SQUAD} WHERE id = ?", squad_id)


async def squads(db: Snapshot, tryout_id: int) -> list[Squad]:
    """The squads that take part, by number."""
    return await db.all(Squad, f"{_SQUAD} WHERE tryout_id = ? AND withdrawn = 0 ORDER BY number", tryout_id)


async def of_section(db: Snapshot, tryout_id: int, section: str) -> list[tuple[Squad, int]]:
    """The squads of a section that take part, by number, each with how many members it has."""
    found = await db.all(
        Squad, f"{_SQUAD} WHERE tryout_id = ? AND section = ? AND withdrawn = 0 ORDER BY number", tryout_id, section
    )
    rows = await db.rows("SELECT squad_id, count(*) FROM student WHERE tryout_id = ? GROUP BY squad_id", tryout_id)
    members: dict[int, int] = {row[0]: row[1] for row in rows}
    return [(one, members.get(one.id, 0)) for one in found]


async def squads_ever(db: Snapshot, tryout_id: int) -> list[Squad]:
    """Every squad there ever was, withdrawn or not, by number."""
    return await db.all(Squad, f"{_SQUAD} WHERE tryout_id = ? ORDER BY number", tryout_id)


async def by_ids(db: Snapshot, squad_ids: Iterable[int]) -> list[Squad]:
    """Some squads, of whichever try-out, withdrawn or not."""
    wanted = list(squad_ids)
    if not wanted:
        return []
    return await db.all(Squad, f"{_SQUAD} WHERE id IN (SELECT value FROM json_each(?)) ORDER BY id", json.dumps(wanted))


async def by_code(db: Snapshot, tryout_id: int, join_code: str) -> Squad | None:
    """The squad with a join code."""
    return await db.one(
        Squad, f"{_SQUAD} WHERE tryout_id = ? AND join_code = ? AND withdrawn = 0", tryout_id, join_code
    )


async def namesakes(db: Snapshot, tryout_id: int, keys: tuple[str, str, str], but: int | None = None) -> list[str]:
    """Names in use that share a key (folded, look, look as written), but for one squad's own.

    Those that were entered before looks as written were kept are all among them.
    """
    rows = await db.rows(
        "SELECT name FROM squad WHERE tryout_id = ?1 AND withdrawn = 0 AND id IS NOT ?5 "
        "AND (folded = ?2 OR skeleton = ?3 OR written_look = ?4 OR written_look IS NULL)",
        tryout_id,
        *keys,
        but,
    )
    return [row[0] for row in rows]


async def names(db: Snapshot, tryout_id: int) -> list[str]:
    """All squad names in use."""
    return [row[0] for row in await db.rows("SELECT name FROM squad WHERE tryout_id = ? AND withdrawn = 0", tryout_id)]


_NEW = (
    "INSERT INTO squad (tryout_id, number, name, folded, skeleton, written_look, section, captain_id, join_code, "
    "created_at) "
    "VALUES (?1, (SELECT coalesce(max(number), 0) + 1 FROM squad WHERE tryout_id = ?1), ?, ?, ?, ?, ?, ?, ?, ?) "
    f"RETURNING {_COLUMNS}"
)


async def add_squad(
    db: Transaction, tryout_id: int, name: str, keys: tuple[str, str, str], section: str, join_code: str, now: datetime
) -> int:
    """Enter a new squad without members under the next number and return its id. Raises as `found_squad`."""
    squad = await db.written(Squad, _NEW, tryout_id, name, *keys, section, None, join_code, stamp(now))
    await squad_room_members.seat_coaches(db, squad.id)
    return squad.id


async def found_squad(
    db: Transaction, captain: Student, name: str, keys: tuple[str, str, str], join_code: str, now: datetime
) -> Squad:
    """Enter a new squad of the captain's section under the next number; the coaches are to be in its room.

    Raises:
        Conflict: the name (or one that looks like it) or the join code is taken.
    """
    of = (captain.section, captain.id, join_code, stamp(now))
    squad = await db.written(Squad, _NEW, captain.tryout_id, name, *keys, *of)
    await squad_room_members.seat_coaches(db, squad.id)
    return squad


async def rename(db: Transaction, squad_id: int, name: str, keys: tuple[str, str, str]) -> None:
    """Give a squad another name.

    Raises:
        Conflict: the name, or one that looks like it, is taken.
    """
    await db.run(
        "UPDATE squad SET name = ?, folded = ?, skeleton = ?, written_look = ?, room_outdated = 1 WHERE id = ?",
        name,
        *keys,
        squad_id,
    )


async def set_captain(db: Transaction, squad_id: int, student_id: int | None) -> None:
    """Make a member captain."""
    await db.run("UPDATE squad SET captain_id = ? WHERE id = ?", student_id, squad_id)


async def set_withdrawn(db: Transaction, squad_id: int) -> None:
    """A squad takes part no more, and nobody leads it."""
    await db.run("UPDATE squad SET withdrawn = 1, captain_id = NULL WHERE id = ?", squad_id)


async def taken_out_of(db: Snapshot, student: Student) -> Squad | None:
    """The squad, taken out by the coach, in whose room a student without a squad was last."""
    return await db.one(
        Squad,
        f"{_SQUAD} WHERE tryout_id = ? AND withdrawn = 1 "
        "AND id IN (SELECT squad_id FROM room_seat WHERE platform_id = ?) "
        "AND id IN (SELECT squad_id FROM decision WHERE kind = 'withdrawn') ORDER BY id DESC LIMIT 1",
        student.tryout_id,
        student.platform_id,
    )


async def roster_size(db: Snapshot, tryout_id: int) -> tuple[int, int, int, int]:
    """How many squads, students and letters in all their names there are, and live messages for the roster board."""
    found = await db.rows(
        "SELECT sum(squads), sum(students), sum(letters), "
        "(SELECT count(*) FROM live_message WHERE tryout_id = ?1 AND key GLOB 'roster/*') FROM ("
        "SELECT count(*) AS squads, 0 AS students, total(length(name)) AS letters FROM squad "
        "WHERE tryout_id = ?1 AND withdrawn = 0 "
        "UNION ALL SELECT 0, count(*), total(length(name)) FROM student WHERE tryout_id = ?1)",
        tryout_id,
    )
    squads, students, letters, placed = found[0]
    return int(squads), int(students), int(letters), int(placed)


async def members(db: Snapshot, squad_id: int) -> list[Student]:
    """The members of a squad, in the order in which they joined."""
    return await db.all(Student, "SELECT * FROM student WHERE squad_id = ? ORDER BY joined_at, id", squad_id)
