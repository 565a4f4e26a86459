"""The commands `backup` and `restore`; where a backup is mistyped, the newest are named."""

import argparse
import os
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from bot.command_line.command_output import complain
from bot.words.core import file_errors
from bot.words.core.command_line_help import HELP


def add_to(commands: Any) -> None:
    """Add both commands to those of the command line (`argparse` gives their collection no public type)."""
    backup = commands.add_parser("backup", help=HELP["backup"])
    backup.add_argument("--fresh", action="store_true", help=HELP["backup --fresh"])
    backup.set_defaults(do=make_backup)

    restore = commands.add_parser("restore", help=HELP["restore"])
    restore.add_argument("backup", metavar="BACKUP", help=HELP["restore BACKUP"])
    restore.set_defaults(do=_restore)

    for command in (backup, restore):
        command.add_argument("--database", type=Path, metavar="FILE", help=HELP["--database"])


def make_backup(chosen: argparse.Namespace) -> int:
    """Back up the database, as the command line says; returns the exit code."""
    from bot.settings import read_database
    from bot.words.core import backup_commands as words
    from storage import backup
    from storage.file_errors import DamagedDatabase, StorageFault

    database = chosen.database or read_database(os.environ)
    if not database.is_file():
        return complain(file_errors.no_such_file(str(database)))
    now = datetime.now(UTC)
    try:
        if chosen.fresh:
            made, deleted = backup.make_only_backup(database, now)
            print(words.saved_only(str(made), deleted))
        else:
            print(words.saved(str(backup.make_backup(database, now))))
    except DamagedDatabase:
        return complain(file_errors.database_damaged(str(database)))
    except StorageFault as fault:
        return complain(words.not_saved(str(database), str(fault)))
    return 0


def _restore(chosen: argparse.Namespace) -> int:
    from bot.settings import read_database
    from bot.words.core import backup_commands as words
    from storage.backup import backups, folder_of
    from storage.file_errors import DamagedDatabase, StorageFault
    from storage.lock import DatabaseInUse
    from storage.migrate import NewerDatabase
    from storage.restore import OtherDatabase, restore

    name, database = chosen.backup, chosen.database or read_database(os.environ)
    try:
        known = backups(database)
        source = next((path for path in (Path(name), folder_of(database) / name) if path.is_file()), None)
        if source is None:
            return complain(words.no_backup(name, [one.path.name for one in known]))
        made_at = next((one.made_at for one in known if one.path.resolve() == source.resolve()), None)
        kept = restore(source, database, datetime.now(UTC))
    except DatabaseInUse:
        return complain(file_errors.database_in_use(str(database)))
    except DamagedDatabase:
        return complain(words.damaged(name))
    except NewerDatabase:
        return complain(file_errors.database_newer(name))
    except OtherDatabase:
        return complain(words.other_file(name))
    except StorageFault as fault:
        return complain(words.not_restored(name, str(fault)))
    print(words.restored(str(database), made_at, str(kept or "")))
    return 0
