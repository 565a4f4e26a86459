"""The commands for whoever keeps the bot running: `service` and `update`."""

import argparse
import os
from pathlib import Path
from typing import Any

from bot.command_line import backup_commands
from bot.command_line.command_output import complain
from bot.words.core.command_line_help import HELP


def add_to(commands: Any) -> None:
    """Add these commands to those of the command line (`argparse` gives their collection no public type)."""
    service = commands.add_parser("service", help=HELP["service"])
    choices = service.add_subparsers(required=True, metavar="WHAT")
    install = choices.add_parser("install", help=HELP["service install"])
    install.add_argument("--token-file", type=Path, metavar="FILE", help=HELP["--token-file"])
    install.add_argument("--print", action="store_true", help=HELP["service install --print"])
    install.set_defaults(do=_service_install)
    remove = choices.add_parser("remove", help=HELP["service remove"])
    remove.set_defaults(do=_service_remove)

    update = commands.add_parser("update", help=HELP["update"])
    update.add_argument("release", type=Path, metavar="NEW", help=HELP["update NEW"])
    update.set_defaults(do=_update)

    for command in (install, remove, update):
        command.add_argument("--database", type=Path, metavar="FILE", help=HELP["--database"])


def environment(chosen: argparse.Namespace) -> dict[str, str]:
    """The environment, with what was named on the command line in its place."""
    named = {"TENBELL_DATABASE": chosen.database, "TENBELL_TOKEN_FILE": getattr(chosen, "token_file", None)}
    return {**os.environ, **{name: str(path) for name, path in named.items() if path is not None}}


def _service_install(chosen: argparse.Namespace) -> int:
    from bot.settings import read_database
    from deploy.user_service.install import ServiceTrouble, install

    surroundings = environment(chosen)
    token_file = surroundings.get("TENBELL_TOKEN_FILE")
    try:
        print(install(read_database(surroundings), Path(token_file) if token_file else None, only_print=chosen.print))
    except ServiceTrouble as trouble:
        return complain(str(trouble))
    return 0


def _service_remove(chosen: argparse.Namespace) -> int:
    from bot.words.core import backup_commands as words
    from deploy.user_service.install import ServiceTrouble, remove

    try:
        database, told = remove()
    except ServiceTrouble as trouble:
        return complain(str(trouble))
    print(told)
    chosen.database, chosen.fresh = chosen.database or database, False
    if not chosen.database.is_file():
        print(words.nothing_to_back_up(str(chosen.database)))
        return 0
    return backup_commands.make_backup(chosen)


def _update(chosen: argparse.Namespace) -> int:
    from bot.settings import read_database
    from deploy.update import run_beside

    return run_beside(chosen.release, read_database(environment(chosen)))
