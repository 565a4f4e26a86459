"""Try-outs: begun, changed, and how far each is."""

import json
import sqlite3
from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import lru_cache
from types import MappingProxyType
from typing import Any, NamedTuple

from storage.records.plan import Plan
from storage.records.tryout import RoomKind, State, Tryout
from storage.tables.sql_session import Snapshot, Transaction, Value, forget_with_records, stamp

AUDIT_KEY_BYTES = 32
"""As many as SHA-256 gives, which RFC 2104 recommends for a key."""


@lru_cache(maxsize=64)
def _plan(text: str) -> Plan:
    """The plan in a column: the same text is read once, as long as its try-out is among those in use."""
    return Plan.model_validate_json(text)


def read_tryouts(rows: Sequence[sqlite3.Row]) -> list[Tryout]:
    """The try-outs in whole rows of their table."""
    return [_tryout(tuple(row.keys()), tuple(row)) for row in rows]


@lru_cache(maxsize=64)
def _tryout(names: tuple[str, ...], row: tuple[Value, ...]) -> Tryout:
    values: dict[str, Any] = dict(zip(names, row, strict=True))
    values["plan"], values["rooms"] = _plan(values.pop("plan_json")), json.loads(values.pop("rooms_json"))
    return Tryout.model_validate(values)


# It holds the key of the audit log's pseudonyms, which is thrown away in the end.
forget_with_records(_tryout.cache_clear)


async def _one(db: Snapshot, sql: str, *values: Value) -> Tryout | None:
    found = read_tryouts(await db.rows(sql, *values))
    return found[0] if found else None


async def running(db: Snapshot, server_id: int) -> Tryout | None:
    """The try-out that runs on a class server, if any."""
    return await _one(db, "SELECT * FROM tryout WHERE server_id = ? AND state <> 'archived'", server_id)


async def all_running(db: Snapshot) -> list[Tryout]:
    """Every try-out that is not archived."""
    return read_tryouts(await db.rows("SELECT * FROM tryout WHERE state <> 'archived' ORDER BY id"))


async def put_away_with_names(db: Snapshot, server_id: int) -> list[tuple[Tryout, datetime]]:
    """The try-outs of a class server that are put away and still hold names, with the day on which those are erased."""
    found = read_tryouts(
        await db.rows("SELECT * FROM tryout WHERE server_id = ? AND state = 'archived' ORDER BY id", server_id)
    )
    due = {
        row["tryout_id"]: datetime.fromisoformat(row["at"])
        for row in await db.rows("SELECT tryout_id, at FROM scheduled_job WHERE kind = 'purge' AND state = 'waiting'")
    }
    return [(one, due[one.id]) for one in found if one.id in due]


async def get(db: Snapshot, tryout_id: int) -> Tryout:
    """One try-out by id.

    Raises:
        LookupError: there is none.
    """
    found = await _one(db, "SELECT * FROM tryout WHERE id = ?", tryout_id)
    if found is None:
        raise LookupError(f"no try-out {tryout_id}")
    return found


class Channels(NamedTuple):
    """The class server of a try-out, and its channels there by what they are for."""

    server_id: int = 0
    by_kind: Mapping[str, int] = MappingProxyType({})


async def channels_of(db: Snapshot, tryout_id: int) -> Channels:
    """The channels of one try-out, without reading all of it; of one that is not there, none."""
    found = await db.rows("SELECT server_id, rooms_json FROM tryout WHERE id = ?", tryout_id)
    return Channels(int(found[0]["server_id"]), json.loads(found[0]["rooms_json"])) if found else Channels()


async def channels_of_running(db: Snapshot) -> dict[int, Channels]:
    """The channels of every try-out that is not archived, by its id."""
    rows = await db.rows("SELECT id, server_id, rooms_json FROM tryout WHERE state <> 'archived'")
    return {int(row["id"]): Channels(int(row["server_id"]), json.loads(row["rooms_json"])) for row in rows}


async def latest(db: Snapshot, server_id: int) -> Tryout | None:
    """The newest try-out of a class server, archived or not."""
    return await _one(db, "SELECT * FROM tryout WHERE server_id = ? ORDER BY id DESC LIMIT 1", server_id)


async def newest(db: Snapshot) -> Tryout | None:
    """The newest try-out of the whole database, archived or not."""
    return await _one(db, "SELECT * FROM tryout ORDER BY id DESC LIMIT 1")


async def everyone(db: Snapshot) -> list[Tryout]:
    """Every try-out of the database, oldest first, archived or not."""
    return read_tryouts(await db.rows("SELECT * FROM tryout ORDER BY id"))


async def create(db: Transaction, server_id: int, plan: Plan, now: datetime) -> int:
    """Begin a try-out in the state `drafting`."""
    return await db.insert(
        "INSERT INTO tryout (server_id, state, plan_json, created_at, audit_key) VALUES (?, 'drafting', ?, ?, ?)",
        server_id,
        plan.model_dump_json(),
        stamp(now),
        db.random_bytes(AUDIT_KEY_BYTES).hex(),
    )


async def set_state(db: Transaction, tryout_id: int, state: State) -> None:
    """Move a try-out to a state."""
    await db.run("UPDATE tryout SET state = ? WHERE id = ?", state, tryout_id)


async def set_plan(db: Transaction, tryout_id: int, plan: Plan) -> None:
    """Replace the plan that counts."""
    await db.run("UPDATE tryout SET plan_json = ? WHERE id = ?", plan.model_dump_json(), tryout_id)


async def set_room(db: Transaction, tryout_id: int, kind: RoomKind, channel_id: int) -> None:
    """Choose the channel for one purpose; live messages move there."""
    await db.run(
        "UPDATE tryout SET rooms_json = json_set(rooms_json, '$.' || ?, ?) WHERE id = ?", kind, channel_id, tryout_id
    )
    await db.run("UPDATE live_message SET stale = stale + 1 WHERE tryout_id = ? AND address = ?", tryout_id, kind)


async def freeze(db: Transaction, tryout_id: int, sha256: str, now: datetime) -> None:
    """Note the moment of the brief and the fingerprint of the plan at that moment."""
    await db.run("UPDATE tryout SET plan_sha256 = ?, brief_at = ? WHERE id = ?", sha256, stamp(now), tryout_id)


async def set_announced(db: Transaction, tryout_id: int, now: datetime) -> None:
    """Note the moment of the announcement."""
    await db.run(
        "UPDATE tryout SET announced_at = ?1, first_announced_at = coalesce(first_announced_at, ?1), "
        "state = 'announced' WHERE id = ?2",
        stamp(now),
        tryout_id,
    )


async def take_announcement_back(db: Transaction, tryout_id: int) -> None:
    """The result is not announced any more; judging stays closed."""
    await db.run("UPDATE tryout SET announced_at = NULL, state = 'settled' WHERE id = ?", tryout_id)


async def note_judges_reminded(db: Transaction, tryout_id: int, now: datetime) -> None:
    """Note that a coach has reminded the judges."""
    await db.run("UPDATE tryout SET judges_reminded_at = ? WHERE id = ?", stamp(now), tryout_id)
