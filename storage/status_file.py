"""The file in which the running bot says how it is, beside the database: `tenbell.db.status`, anew every few seconds.

It is a file and not a table, so that a look at it never waits for the database, and it survives as the last sign of
life when the bot is stopped.
"""

import os
from contextlib import suppress
from pathlib import Path

from storage.private_files import create_private
from storage.records.status_file import Heartbeat


def heartbeat_file(database: Path) -> Path:
    """Where the bot on a database says how it is."""
    return database.with_name(f"{database.name}.status")


def write_heartbeat(database: Path, beat: Heartbeat) -> None:
    """Put a heartbeat in the place of the one before; nobody ever reads half of one.

    Raises:
        OSError: the file cannot be written.
    """
    file = heartbeat_file(database)
    fresh = file.with_name(f"{file.name}.new")
    create_private(fresh)
    fresh.write_text(beat.model_dump_json(), "utf-8")
    os.replace(fresh, file)  # noqa: PTH105 - replaces on every system


def read_heartbeat(database: Path) -> Heartbeat | None:
    """The last heartbeat; None when there is none, or none that can be read."""
    with suppress(OSError, ValueError):
        return Heartbeat.model_validate_json(heartbeat_file(database).read_text("utf-8"))
    return None
