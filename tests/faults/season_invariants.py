"""Looks at the bot from outside while a season is played: at its file, at its log, and at what stands in the rooms.

Nothing of the bot is imported. Each look raises `Noticed` for what must not be so.
"""

import ctypes
import hashlib
import hmac
import json
import os
import re
import sqlite3
from collections.abc import Collection, Iterator
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.state import World

BUTTON = 2
"""The platform's number for a button."""
CACHESTAT = 451
"""The number of Linux's system call (since 6.5) that tells how much of a file waits for the disk."""
HIDDEN = re.compile("[\u200b\u2060\ufeff\u202a-\u202e\u2066-\u2069\u061c]")
ACTS = re.compile(r"(?<!\\)(?:://evil|\bwww\.evil|<@&|@everyone|\*\*evil|\]\()", re.IGNORECASE)
"""What the platform would make a link, a mention or bold of."""
TROUBLED = re.compile(r" fault \w+ | ERROR ")


KEPT = timedelta(days=3, hours=2)


class Noticed(Exception):
    """Something is not as it was promised."""


class _Range(ctypes.Structure):
    _fields_ = (("offset", ctypes.c_uint64), ("length", ctypes.c_uint64))


class _Pages(ctypes.Structure):
    _fields_ = tuple((name, ctypes.c_uint64) for name in ("cached", "dirty", "writing", "evicted", "lately"))


def unwritten(path: Path) -> int | None:
    """How many pages of a file a power cut would take now; None where the system does not tell."""
    libc = ctypes.CDLL(None, use_errno=True)
    pages, whole = _Pages(), _Range(0, 0)
    descriptor = os.open(path, os.O_RDONLY)
    try:
        failed = libc.syscall(CACHESTAT, descriptor, ctypes.byref(whole), ctypes.byref(pages), 0)
    finally:
        os.close(descriptor)
    return None if failed else int(pages.dirty + pages.writing)


def is_on_disk(database: Path) -> None:
    """What somebody was told is done is on the disk: nothing of the log of writes waits for it."""
    log = Path(f"{database}-wal")
    if log.exists() and unwritten(log):
        raise Noticed("somebody was told that it is done, and a power cut would take it")


def is_sound(database: Path) -> None:
    """The file passes SQLite's own checks, and no row refers to one that is gone."""
    with closing(sqlite3.connect(database)) as connection:
        for check in ("quick_check", "foreign_key_check"):
            found = connection.execute(f"PRAGMA {check}").fetchall()
            if found not in ([], [("ok",)]):
                raise Noticed(f"{check} of the file: {found[:3]}")


def rows(database: Path) -> dict[str, int]:
    """How many rows each table has."""
    with closing(sqlite3.connect(database)) as connection:
        tables = [row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        return {table: connection.execute(f'SELECT count(*) FROM "{table}"').fetchone()[0] for table in tables}


def rooms_are_harmless(world: World) -> None:
    """Nothing that people wrote has become a link, a mention or markup, and nothing in it is hidden."""
    for room in world.rooms.values():
        for message in room.messages.values():
            if message.author_id != world.bot.id:
                continue
            if found := ACTS.search(message.content):
                raise Noticed(f"in {room.name} what somebody wrote does something: {found[0]!r}")
            written = message.content + json.dumps(message.components, ensure_ascii=False)
            if HIDDEN.search(written):
                raise Noticed(f"in {room.name} stand characters that nobody sees")


LONGEST = {"label": 100, "description": 100, "placeholder": 150}
"""By the platform's public reference of components; what a client means by characters may be UTF-16 units."""
LONGEST_BUTTON = 80


def labels_fit(world: World) -> None:
    """No label is longer than the platform allows, also where it counts an emoji twice."""
    for room in world.rooms.values():
        for message in room.messages.values():
            for part in _parts(message.components):
                for name, usual in LONGEST.items():
                    most = LONGEST_BUTTON if name == "label" and part.get("type") == BUTTON else usual
                    text = part.get(name)
                    if isinstance(text, str) and len(text.encode("utf-16-le")) // 2 > most:
                        raise Noticed(f"in {room.name} a label is too long: {text[:30]!r}")


def _parts(components: Any) -> Iterator[Json]:
    """Every object in the components of a message."""
    if isinstance(components, list):
        for one in components:
            yield from _parts(one)
    elif isinstance(components, dict):
        yield components
        for one in components.values():
            yield from _parts(one)


def log_is_quiet(log: Path) -> None:
    """The log tells of no mistake of the program."""
    for line in log.read_text("utf-8", errors="replace").splitlines():
        if TROUBLED.search(line):
            raise Noticed(f"the log tells of a mistake: {line[:200]}")


def everything_in(database: Path) -> Iterator[tuple[str, object]]:
    """Every value of every table, with the table's name."""
    with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as connection:
        tables = [row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        for table in tables:
            for row in connection.execute(f'SELECT * FROM "{table}"'):
                yield from ((table, value) for value in row)


def is_nowhere(database: Path, words: Collection[str], why: str) -> None:
    """None of these words can be read in the bytes of the file, nor in those of the log of writes beside it."""
    for path in (database, Path(f"{database}-wal")):
        data = path.read_bytes() if path.exists() else b""
        for word in words:
            if word.encode() in data:
                raise Noticed(f"{word!r} can still be read in {path.name}, {why}")


def answers_are_forgotten(database: Path, now: datetime) -> None:
    """Answers to presses are kept for two days, until the night after."""
    with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as connection:
        (oldest,) = connection.execute("SELECT min(at) FROM processed_interaction").fetchone()
    if oldest is not None and now - datetime.fromisoformat(oldest) > KEPT:
        raise Noticed(f"an answer of {oldest} is still kept at {now}")


def log_names_nobody(database: Path, accounts: Collection[int]) -> None:
    """In the log of what was done nobody stands with an account number."""
    known = {str(account) for account in accounts}
    for table, value in everything_in(database):
        if table == "audit_log" and isinstance(value, str) and known & set(re.findall(r"\d{17,}", value)):
            raise Noticed("an account number stands in the log of what was done")


def nobody_can_be_found(database: Path, accounts: Collection[int]) -> None:
    """With no value in the file as the key can anybody's account be matched with an entry of the log."""
    with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as connection:
        actors = {row[0].rpartition(":")[2] for row in connection.execute("SELECT DISTINCT actor FROM audit_log")}
    keys = {value for _, value in everything_in(database) if isinstance(value, str) and len(value) in (32, 64, 128)}
    for key in keys:
        if not re.fullmatch(r"[0-9a-f]+", key):
            continue
        for account in accounts:
            made = hmac.new(bytes.fromhex(key), str(account).encode(), hashlib.sha256).hexdigest()
            if made[:32] in actors:
                raise Noticed("the key is still there with which people are found in the log")


def chain_holds(database: Path) -> None:
    """Every entry's digest covers the one before: SHA-256 over it, a new line, and the entry as canonical JSON."""
    with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as connection:
        rows = connection.execute(
            "SELECT tryout_id, at, actor, action, details_json, previous, digest FROM audit_log ORDER BY seq"
        ).fetchall()
    before = ""
    for tryout, at, actor, action, details, previous, digest in rows:
        entry = {"tryout": tryout, "at": at, "actor": actor, "action": action, "details": json.loads(details)}
        text = json.dumps(entry, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        if previous != before or digest != hashlib.sha256(f"{before}\n{text}".encode()).hexdigest():
            raise Noticed("the log of what was done is no chain")
        before = digest
