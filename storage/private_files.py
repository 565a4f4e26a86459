"""Files that only the user of the bot may read and write: mode 0600, whatever the umask says (POSIX systems only)."""

import os
import stat
from contextlib import suppress
from pathlib import Path

from storage.database_file import COMPANIONS

OTHERS = stat.S_IRWXG | stat.S_IRWXO
"""The permission bits of everybody but the owner."""


def create_private(path: Path) -> None:
    """Make an empty file unless there is one, and let nobody else read it or what SQLite keeps beside it.

    SQLite gives the files beside a database (`-wal`, `-shm`, `-journal`) the mode of the database itself.

    Raises:
        OSError: the file cannot be made.
    """
    # Never opened when it is there: closing any handle to a file ends every lock this process holds on it.
    with suppress(FileExistsError):
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        # A strict umask may have taken the owner's own permissions, too.
        path.chmod(0o600)
    tighten(path)


def tighten(path: Path) -> None:
    """Take everybody else's permissions from a file and from what SQLite keeps beside it.

    Files that belong to somebody else, and file systems that know no modes, are left as they are.
    """
    if os.name != "posix":
        return
    for name in (path.name, *(f"{path.name}{companion}" for companion in COMPANIONS)):
        beside = path.with_name(name)
        # A file beside a database may go at any moment, when its last user closes it.
        with suppress(FileNotFoundError, NotADirectoryError, PermissionError):
            mode = beside.stat().st_mode
            if stat.S_ISREG(mode) and mode & OTHERS:
                beside.chmod(stat.S_IMODE(mode) & ~OTHERS)
