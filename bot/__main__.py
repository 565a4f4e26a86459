"""The command line: `tenbell …`, or `python -m bot …`."""

import argparse
import asyncio
import logging
import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from datetime import datetime
from io import TextIOWrapper
from pathlib import Path

from bot import hosting_commands
from bot.backup_commands import complain
from bot.words.core import startup_errors

DESCRIPTION = """\
Tenbell runs a school try-out on a class messaging server: squads sign up, the days are counted down,
judges mark in private, and the standings can be explained and recomputed.

Before the first try-out, be anyone in a made-up one:   tenbell try
or see one from start to end:                           tenbell rehearse
Make a plan by answering questions:                     tenbell plan new my-plan.toml
Check a plan you have written:                          tenbell plan check my-plan.toml
Run it for your class (token in TENBELL_TOKEN):         tenbell run
"""


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
    parser.add_argument("--version", action="version", version=hosting_commands.program_version())
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")

    run = commands.add_parser("run", help="run the bot for your class, until Ctrl-C")
    run.add_argument("--token-file", type=Path, metavar="FILE", help="a file that holds the bot's token, alone")
    run.add_argument("--database", type=Path, metavar="FILE", help="the bot's database file")
    run.set_defaults(do=_run)

    commands.add_parser("try", help="be anyone in a made-up try-out on this machine, in a browser")
    commands.add_parser("rehearse", help="play a made-up try-out on this machine and show what everyone saw")

    plan = commands.add_parser("plan", help="make, check and explain plan files").add_subparsers(
        required=True, metavar="WHAT"
    )
    new = plan.add_parser("new", help="answer about ten questions and get a commented plan")
    new.add_argument(
        "file", type=Path, nargs="?", default=Path("my-plan.toml"), metavar="FILE", help="where to write it"
    )
    new.add_argument("--yes", action="store_true", help="ask nothing and take what is proposed")
    new.set_defaults(do=_plan_new)
    reference = plan.add_parser("reference", help="print every key of a plan with its meaning, bounds and default")
    reference.set_defaults(do=_plan_reference)
    schema = plan.add_parser("schema", help="print a JSON Schema of plans, for editors")
    schema.set_defaults(do=_plan_schema)
    check = plan.add_parser("check", help="list every mistake in a plan, or print its whole calendar")
    check.add_argument("file", type=Path, metavar="FILE", help="a plan in TOML")
    check.set_defaults(do=_plan_check)

    standings = commands.add_parser("standings", help="print the standings of the newest try-out in a database")
    standings.add_argument("--database", type=Path, required=True, metavar="FILE", help="the bot's database file")
    standings.set_defaults(do=_standings)

    verify = commands.add_parser("verify", help="recompute a results packet from itself alone, stage by stage")
    verify.add_argument("packet", type=Path, metavar="PACKET", help="a results-packet.json as the coach got it")
    verify.add_argument("--database", type=Path, metavar="FILE", help="check the database's trail and plan as well")
    verify.set_defaults(do=_verify)

    packet = commands.add_parser("packet", help="write the results packet of the newest try-out in a database")
    packet.add_argument("--database", type=Path, required=True, metavar="FILE", help="the bot's database file")
    packet.add_argument("--to", type=Path, metavar="PACKET", help="the file to write; without it, it is printed")
    packet.set_defaults(do=_packet)

    hosting_commands.add_to(commands)
    return parser


def _run(chosen: argparse.Namespace) -> int:
    from bot.actions.core.fault_log import PlainFormatter, keep_libraries_quiet
    from bot.app import run
    from bot.settings import BadSetting, read_settings

    handler = logging.StreamHandler()
    handler.setFormatter(PlainFormatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    logging.basicConfig(level=logging.INFO, handlers=[handler])
    keep_libraries_quiet()
    try:
        asyncio.run(run(read_settings(hosting_commands.environment(chosen))))
    except BadSetting as bad:
        return complain(str(bad))
    except KeyboardInterrupt:
        return 0
    return 0


def _plan_new(chosen: argparse.Namespace) -> int:
    from bot.rules.plan.new_plan import defaults
    from bot.words.plan import new_plan as words

    answers = defaults(datetime.now().astimezone().date())
    try:
        if not chosen.yes:
            words.ask_all(answers, input, print)
        with chosen.file.open("x", encoding="utf-8") as file:
            file.write(words.plan_toml(answers))
    except FileExistsError:
        return complain(words.file_exists(str(chosen.file)))
    except OSError:
        return complain(words.cannot_write(str(chosen.file)))
    except (EOFError, KeyboardInterrupt):
        return complain(words.no_plan_made())
    print(words.plan_made(str(chosen.file)))
    return 0


def _plan_reference(_: argparse.Namespace) -> int:
    from bot.words.plan.plan_reference import plan_reference

    print(plan_reference(), end="")
    return 0


def _plan_schema(_: argparse.Namespace) -> int:
    import json

    from bot.words.plan.plan_schema import plan_schema

    print(json.dumps(plan_schema(), indent=2))
    return 0


def _plan_check(chosen: argparse.Namespace) -> int:
    from datetime import UTC, datetime

    from bot.rules.plan.oversized_plan_files import LARGEST
    from bot.words.plan.plan_report import plan_check_report

    try:
        with chosen.file.open("rb") as file:
            toml = file.read(LARGEST + 1)
    except OSError:
        return complain(startup_errors.no_such_file(str(chosen.file)))
    report, good = plan_check_report(toml, datetime.now(UTC))
    print(report)
    return 0 if good else 1


def _standings(chosen: argparse.Namespace) -> int:
    from bot.actions.scoring.command_line_standings import standings_report

    if not chosen.database.is_file():
        return complain(startup_errors.no_such_file(str(chosen.database)))
    return _report(chosen.database, lambda: (asyncio.run(standings_report(chosen.database)), True))


def _verify(chosen: argparse.Namespace) -> int:
    from bot.actions.scoring.command_line_verify import verify_report
    from bot.rules.scoring.packet import LARGEST

    for file in (chosen.packet, chosen.database):
        if file is not None and not file.is_file():
            return complain(startup_errors.no_such_file(str(file)))

    def make() -> tuple[str, bool]:
        with chosen.packet.open("rb") as file:
            packet = file.read(LARGEST + 1)
        return asyncio.run(verify_report(packet, chosen.database))

    return _report(chosen.database or chosen.packet, make)


def _packet(chosen: argparse.Namespace) -> int:
    from bot.actions.scoring.command_line_verify import newest_packet
    from bot.words.scoring import command_line_standings, command_line_verify

    if not chosen.database.is_file():
        return complain(startup_errors.no_such_file(str(chosen.database)))

    def make() -> tuple[str, bool]:
        text = asyncio.run(newest_packet(chosen.database))
        if text is None:
            return command_line_standings.nothing(), False
        if chosen.to is None:
            return text.rstrip("\n"), True
        chosen.to.write_text(text, "utf-8", newline="\n")
        return command_line_verify.written(str(chosen.to)), True

    return _report(chosen.database, make)


def _report(about: Path, make: Callable[[], tuple[str, bool]]) -> int:
    """Print a report and return whether all is well, or say in one sentence what stands in the way."""
    from bot.rules.core.refusal import Refusal
    from bot.words.core import refusals
    from bot.words.scoring.packet_text import visible
    from storage.file_errors import DamagedDatabase, StorageFault

    try:
        text, good = make()
    except DamagedDatabase:
        return complain(startup_errors.database_damaged(str(about)))
    except (StorageFault, OSError) as fault:
        return complain(startup_errors.database_unusable(str(about), str(fault)))
    except Refusal as refusal:
        return complain(visible(refusals.line(refusal)))
    print(text)
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
