"""Putting a backup in the place of the database."""

import shutil
import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path

from storage.backup import place_for
from storage.database_file import COMPANIONS, connect, copy_database, remove, settle_folder
from storage.file_errors import DamagedDatabase, as_faults
from storage.lock import only_process
from storage.migrate import NewerDatabase, migrations


class OtherDatabase(Exception):
    """A sound database, but not one of ours."""


def restore(source: Path, database: Path, now: datetime) -> Path | None:
    """Put a copy of a backup in the place of the database, and return where the file it replaced is kept, if any.

    The copy is checked before anything is touched, and takes the place of the old file in one step.

    Raises:
        DatabaseInUse: a process runs on the database.
        DamagedDatabase, NewerDatabase, OtherDatabase: the backup will not do.
        StorageFault: a file could not be read or written. In every case the database is left as it was.
    """
    with as_faults(), only_process(database):
        ready = database.with_name(f"{database.name}.restoring")
        try:
            copy_database(source, ready)
            _accept(ready)
            kept = _keep_old(database, now)
            ready.replace(database)
            settle_folder(database.parent)
        finally:
            remove(ready)
    return kept


def _accept(copy: Path) -> None:
    """Check that a copy is ours and not newer than we are, and make its messages distinct from those sent since."""
    with closing(connect(copy, "rw")) as connection:
        version = int(connection.execute("PRAGMA user_version").fetchone()[0])
        if version > len(migrations()):
            raise NewerDatabase(version, len(migrations()))
        try:
            # The tag makes nonces unique to a file; outbox messages numbered anew must not pass for those sent already.
            changed = connection.execute("UPDATE database_identity SET tag = lower(hex(randomblob(5)))").rowcount
        except sqlite3.OperationalError as error:
            raise OtherDatabase(str(error)) from error
        if changed != 1:
            raise OtherDatabase("it has no tag")


def _keep_old(database: Path, now: datetime) -> Path | None:
    if not database.exists():
        # What a lost file left behind would be taken for a part of the new one.
        remove(database)
        return None
    kept = place_for(database, now, before="restore")
    remove(kept)
    try:
        # What was committed last may still stand in the log beside the file, after a crash.
        with as_faults(), closing(connect(database, "rw")) as connection:
            connection.execute("PRAGMA journal_mode = DELETE")
    except DamagedDatabase:
        # Kept as it is, with its log, for someone who can read more from it than we can.
        for companion in COMPANIONS:
            beside = database.with_name(f"{database.name}{companion}")
            if beside.exists():
                beside.replace(kept.with_name(f"{kept.name}{companion}"))
    try:
        kept.hardlink_to(database)
    except OSError:
        # Not every file system knows two names for one file.
        shutil.copy2(database, kept)
    kept.chmod(0o600)
    return kept
