"""Running SQL inside a snapshot or a transaction, and turning rows into records."""

import re
import sqlite3
from collections import defaultdict
from collections.abc import AsyncIterator, Callable, Coroutine, Iterable, Sequence
from contextlib import asynccontextmanager
from datetime import UTC, datetime
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Any, TypeVar

from storage.database_thread import Access

if TYPE_CHECKING:
    # Late: a store can be open, and the platform reached, before there are records.
    from pydantic import TypeAdapter

    from storage.records.base import Record

R = TypeVar("R", bound="Record")
T = TypeVar("T")
V = TypeVar("V")
Value = str | int | float | bytes | None


class Conflict(Exception):
    """A constraint of the database refused the change: someone was quicker."""


def stamp(at: datetime) -> str:
    """The instant as UTC text whose order is time order."""
    return at.astimezone(UTC).isoformat(timespec="microseconds")


def to_records(record: type[R], rows: Sequence[sqlite3.Row]) -> list[R]:
    """The records in the rows of one query; a column `x_json` holds the JSON of field `x`."""
    if not rows:
        return []
    make = _maker(record, tuple(rows[0].keys()))
    return [make(tuple(row)) for row in rows]


ROWS_KEPT = 500
"""Of so many rows with the same columns the records are kept, those that were read last."""
_forgetting: list[Callable[[], None]] = []


def forget_records() -> None:
    """Keep no record of any row, such as those of people who have been erased since."""
    for forget in [*_forgetting]:
        forget()


def forget_with_records(forget: Callable[[], None]) -> None:
    """Have this called, too, whenever records are forgotten."""
    _forgetting.append(forget)


@cache
def _maker(record: type[R], names: tuple[str, ...]) -> Callable[[tuple[Value, ...]], R]:
    """What makes a record of a row with these columns: of equal rows the same one, as nobody can change it."""
    fields = [name.removesuffix("_json") for name in names]
    nested = [
        (at, _reader(record, field).validate_json)
        for at, (name, field) in enumerate(zip(names, fields, strict=True))
        if name != field
    ]

    def make(row: tuple[Value, ...]) -> R:
        values: list[Any] = [*row]
        for at, read in nested:
            values[at] = read(values[at])
        return record.model_validate(dict(zip(fields, values, strict=True)))

    # A message may carry files of any size, and is read but once or twice.
    if "message" in fields:
        return make
    kept = lru_cache(ROWS_KEPT)(make)
    forget_with_records(kept.cache_clear)
    return kept


@cache
def _reader(record: type["Record"], field: str) -> "TypeAdapter[Any]":
    """What reads the JSON of one field of a record."""
    from pydantic import TypeAdapter

    read: TypeAdapter[Any] = TypeAdapter(record.model_fields[field].rebuild_annotation())
    return read


_WRITES = re.compile(r"(?:INSERT(?: OR IGNORE)? INTO|UPDATE(?: OR IGNORE)?) (?!OR )(\w+)")


@cache
def only_table_of(sql: str) -> str | None:
    """The table that alone a statement can change; None where others may go with it: a row deleted takes rows along."""
    written = _WRITES.match(sql)
    return None if written is None else written[1]


OUTER = "outer"
"""The savepoint in which a transaction runs (see `Store.write`)."""


class Snapshot:
    """Reading: everything seen through one snapshot belongs to one moment.

    So what is asked twice is read once: many parts of one action ask for the same squad.
    """

    def __init__(self, access: Access) -> None:
        self._access = access
        self._seen: defaultdict[str, dict[tuple[object, ...], list[Any]]] = defaultdict(dict)
        """What each query has brought, as rows or as records, by its text."""

    async def rows(self, sql: str, *values: Value) -> list[sqlite3.Row]:
        """All rows of a query."""
        seen = self._seen[sql]
        found = seen.get(values)
        if found is None:
            found = seen[values] = await self._access.run(_rows, sql, values)
        return [*found]

    async def all(self, record: type[R], sql: str, *values: Value) -> list[R]:
        """All rows of a query, as records."""
        seen, key = self._seen[sql], (record, *values)
        found = seen.get(key)
        if found is None:
            found = seen[key] = to_records(record, await self.rows(sql, *values))
        return [*found]

    async def one(self, record: type[R], sql: str, *values: Value) -> R | None:
        """The first row of a query as a record, or None."""
        seen, key = self._seen[sql], (record, "first", *values)
        found = seen.get(key)
        if found is None:
            found = seen[key] = to_records(record, (await self.rows(sql, *values))[:1])
        return found[0] if found else None

    async def value(self, sql: str, *values: Value) -> Any:
        """The first column of the first row, or None."""
        found = await self.rows(sql, *values)
        return found[0][0] if found else None


class Transaction(Snapshot):
    """Reading and writing; everything is kept, or nothing."""

    def __init__(self, access: Access, random_bytes: Callable[[int], bytes]) -> None:
        super().__init__(access)
        self.random_bytes = random_bytes
        """So many bytes that nobody can guess, for keys."""
        self.at_the_end: dict[str, Callable[[Transaction], Coroutine[Any, Any, None]]] = {}
        self._written = False

    def before_commit(self, key: str, work: "Callable[[Transaction], Coroutine[Any, Any, None]]") -> None:
        """Do this work before the commit: once, however many transactions that share it ask for it under this key.

        It is for what many changes cause and one doing settles, such as showing a board anew. It is done even if the
        part of the transaction that asked for it is undone.
        """
        self.at_the_end[key] = work

    async def run(self, sql: str, *values: Value) -> int:
        """Run a statement and return how many rows it changed.

        Raises:
            Conflict: a constraint refused it.
        """
        return (await self._change(_execute, sql, values)).rowcount

    async def insert(self, sql: str, *values: Value) -> int:
        """Insert one row and return its id.

        Raises:
            Conflict: a constraint refused it.
        """
        row = (await self._change(_execute, sql, values)).lastrowid
        assert row is not None
        return row

    async def run_many(self, sql: str, rows: Iterable[tuple[Value, ...]]) -> None:
        """Run a statement once for each row of values.

        Raises:
            Conflict: a constraint refused one of them.
        """
        await self._change(_execute_many, sql, rows)

    async def written(self, record: type[R], sql: str, *values: Value) -> R:
        """Run a statement that returns the one row it wrote (RETURNING), as a record.

        Raises:
            Conflict: a constraint refused it.
        """
        return to_records(record, await self._change(_rows, sql, values))[0]

    async def _change(self, function: Callable[[sqlite3.Connection, str, V], T], sql: str, values: V) -> T:
        self._written = True
        self._forget(only_table_of(sql))
        try:
            return await self._access.run(function, sql, values)
        except sqlite3.IntegrityError as refused:
            raise Conflict(str(refused)) from refused

    def _forget(self, table: str | None) -> None:
        """Read anew what may have changed with a table; with any, if it is not known which."""
        for sql in [sql for sql in self._seen if table is None or table in sql]:
            del self._seen[sql]

    @asynccontextmanager
    async def undoable(self) -> AsyncIterator[None]:
        """A part of the transaction that is undone, alone, when it raises."""
        if not self._written:
            # Nothing stands before it: the savepoint of the transaction itself does.
            try:
                yield
            except BaseException:
                await self._access.surely(back_to, OUTER)
                self._written = False
                self._forget(None)
                raise
            return
        await self._access.run(_execute, "SAVEPOINT part", ())
        try:
            yield
        except BaseException:
            await self._access.surely(undo, "part")
            self._forget(None)
            raise
        await self._access.run(_execute, "RELEASE part", ())


def back_to(connection: sqlite3.Connection, savepoint: str) -> None:
    """Undo what has been done since a savepoint, which stays."""
    connection.execute(f"ROLLBACK TO {savepoint}")


def undo(connection: sqlite3.Connection, savepoint: str) -> None:
    """Undo what has been done since a savepoint, and the savepoint itself."""
    back_to(connection, savepoint)
    connection.execute(f"RELEASE {savepoint}")


def _rows(connection: sqlite3.Connection, sql: str, values: Sequence[Value]) -> list[sqlite3.Row]:
    return connection.execute(sql, values).fetchall()


def _execute(connection: sqlite3.Connection, sql: str, values: Sequence[Value]) -> sqlite3.Cursor:
    return connection.execute(sql, values)


def _execute_many(connection: sqlite3.Connection, sql: str, rows: Iterable[tuple[Value, ...]]) -> None:
    connection.executemany(sql, rows)
