"""The command line: `tenbell …`, or `python -m bot …`."""

import argparse
import asyncio
import logging
import os
import subprocess
import sys
from collections.abc import Sequence
from io import TextIOWrapper
from pathlib import Path

from bot.command_line import backup_commands, plan_commands, results_commands, service_commands, status_command
from bot.command_line.command_output import complain
from bot.program_version import program_version
from bot.words.core.command_line_help import DESCRIPTION, HELP


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return the exit code: 0 is well, 1 a difference or a bad file, 2 cannot start."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    if given[:1] in (["rehearse"], ["try"]):
        # These are other programs, with help pages of their own; they start the bot as its users would.
        program = "deploy.rehearsal" if given[0] == "rehearse" else "deploy.rehearsal.tryroom"
        return subprocess.run([sys.executable, "-m", program, *given[1:]], check=False).returncode
    chosen = _parser().parse_args(given)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            # What a terminal's own alphabet lacks is shown as its code.
            stream.reconfigure(errors="backslashreplace")
    try:
        code = int(chosen.do(chosen))
        if sys.stdout:
            # There is none where whoever started us has closed it.
            sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read along, such as `head`, has seen enough; nothing more can be said to them, at the exit either.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tenbell", description=DESCRIPTION, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--version", action="version", version=f"tenbell {program_version() or '(not installed)'}")
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")

    run = commands.add_parser("run", help=HELP["run"])
    run.add_argument("--token-file", type=Path, metavar="FILE", help=HELP["--token-file"])
    run.add_argument("--database", type=Path, metavar="FILE", help=HELP["--database"])
    run.set_defaults(do=_run)

    commands.add_parser("try", help=HELP["try"])
    commands.add_parser("rehearse", help=HELP["rehearse"])

    plan_commands.add_to(commands)
    results_commands.add_to(commands)
    service_commands.add_to(commands)
    status_command.add_to(commands)
    backup_commands.add_to(commands)
    return parser


def _run(chosen: argparse.Namespace) -> int:
    from bot.app import run
    from bot.log_setup import set_up_log
    from bot.settings import BadSetting, read_settings

    set_up_log()
    try:
        asyncio.run(run(read_settings(service_commands.environment(chosen))))
    except BadSetting as bad:
        return complain(str(bad))
    except KeyboardInterrupt:
        return 0
    return 0


if __name__ == "__main__":
    code = main()
    logging.shutdown()
    if sys.stdout:
        sys.stdout.flush()
    # Everything is closed and written: to take the program apart piece by piece would only keep a restart waiting.
    os._exit(code)
