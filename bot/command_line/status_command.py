"""The command `status`: how the running bot is, and the exit code that says whether all is well."""

import argparse
import os
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from bot.words.core.command_line_help import HELP


def add_to(commands: Any) -> None:
    """Add this command to those of the command line (`argparse` gives their collection no public type)."""
    status = commands.add_parser("status", help=HELP["status"])
    status.add_argument("--database", type=Path, metavar="FILE", help=HELP["--database"])
    status.set_defaults(do=_status)


def _status(chosen: argparse.Namespace) -> int:
    from bot.rules.core.status_report import is_well
    from bot.settings import read_database
    from bot.words.core import status_report
    from storage.status_file import read_heartbeat

    database, now = chosen.database or read_database(os.environ), datetime.now(UTC)
    beat = read_heartbeat(database)
    print(status_report.report(beat, now, str(database)))
    return 0 if is_well(beat, now) else 1
