"""The backups of a database, in a folder beside it; how many are kept is said in `backup_rotation`.

Each is a whole database of its own, named by the UTC moment at which it was made. What a file held before it was
brought up to date or replaced lies there too, for as many weeks, so that someone who was erased is nowhere else.
"""

import re
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from storage.backup_rotation import LEFT_OVER, is_kept_aside, kept
from storage.database_file import COMPANIONS, copy_database, remove
from storage.file_errors import as_faults

_NAME = re.compile(r".+-(?P<at>\d{4}-\d\d-\d\dT\d{6}Z)(?P<why>-before-[a-z0-9-]+)?\.db")
_MOMENT = "%Y-%m-%dT%H%M%SZ"


@dataclass(frozen=True)
class Backup:
    """One file in the folder; `aside` if it is what a file held before it was changed."""

    path: Path
    made_at: datetime
    aside: bool


def folder_of(database: Path) -> Path:
    """The folder that holds the backups of a database."""
    return database.with_name(f"{database.name}.backups")


def backups(database: Path) -> list[Backup]:
    """Everything in the folder, newest first.

    Raises:
        StorageFault: the folder cannot be read.
    """
    folder, found = folder_of(database), []
    with as_faults():
        for path in folder.iterdir() if folder.is_dir() else ():
            named = _NAME.fullmatch(path.name)
            if named is not None:
                made_at = datetime.strptime(named["at"], _MOMENT).replace(tzinfo=UTC)
                found.append(Backup(path, made_at, aside=named["why"] is not None))
    return sorted(found, key=lambda one: (one.made_at, one.path.name), reverse=True)


def last_backup(database: Path) -> datetime | None:
    """When the newest backup was made.

    Raises:
        StorageFault: the folder cannot be read.
    """
    return next((one.made_at for one in backups(database) if not one.aside), None)


def place_for(database: Path, now: datetime, before: str = "") -> Path:
    """The path of a backup made now, in a folder that only its owner may open; `before` says before what it was made.

    Raises:
        StorageFault: the folder cannot be made.
    """
    folder = folder_of(database)
    with as_faults():
        folder.mkdir(mode=0o700, exist_ok=True)
    why = f"-before-{before}" if before else ""
    return folder / f"{database.stem}-{now.astimezone(UTC).strftime(_MOMENT)}{why}.db"


def make_backup(database: Path, now: datetime) -> Path:
    """Make and check one more backup, while the database may be in use; where it lies.

    Raises:
        DamagedDatabase: the database or the copy is not sound.
        StorageFault: one of them could not be read or written. Either way, earlier backups are left as they were.
    """
    target = place_for(database, now)
    copy_database(database, target)
    return target


def make_nightly_backup(database: Path, now: datetime) -> Path:
    """Make a backup, and only then delete those that are no longer to be kept; where the new one lies.

    Raises:
        DamagedDatabase: the database or the copy is not sound.
        StorageFault: a file could not be read, written or deleted.
    """
    made = make_backup(database, now)
    present = backups(database)
    wanted = kept([one.made_at for one in present if not one.aside], now)
    for one in present:
        stays = is_kept_aside(one.made_at, now) if one.aside else one.made_at in wanted
        if not stays and one.path != made:
            remove(one.path)
    _tidy(database)
    return made


def make_only_backup(database: Path, now: datetime) -> tuple[Path, int]:
    """Make a backup, and then delete every other: what was erased from the database is in none of them any more.

    Returns where it lies and how many were deleted.

    Raises:
        DamagedDatabase: the database or the copy is not sound.
        StorageFault: a file could not be read, written or deleted.
    """
    made = make_backup(database, now)
    others = [one for one in backups(database) if one.path != made]
    for one in others:
        remove(one.path)
    return made, len(others)


def _tidy(database: Path) -> None:
    """Delete what a crash in the middle of a backup left, once nobody can still be writing it."""
    with as_faults():
        oldest = (datetime.now(UTC) - LEFT_OVER).timestamp()
        for path in folder_of(database).glob("*.part*"):
            # What another backup is writing may be gone by now.
            with suppress(FileNotFoundError):
                if path.name.endswith((".part", *COMPANIONS)) and path.stat().st_mtime < oldest:
                    path.unlink(missing_ok=True)
