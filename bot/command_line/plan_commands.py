"""The commands about plan files: `plan new`, `plan check`, `plan reference`, `plan schema`."""

import argparse
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from bot.command_line.command_output import complain
from bot.words.core import file_errors
from bot.words.core.command_line_help import HELP


def add_to(commands: Any) -> None:
    """Add these commands to those of the command line (`argparse` gives their collection no public type)."""
    plan = commands.add_parser("plan", help=HELP["plan"]).add_subparsers(required=True, metavar="WHAT")
    new = plan.add_parser("new", help=HELP["plan new"])
    new.add_argument("file", type=Path, nargs="?", metavar="FILE", help=HELP["plan new FILE"])
    new.add_argument("--yes", action="store_true", help=HELP["plan new --yes"])
    new.set_defaults(do=_plan_new)
    reference = plan.add_parser("reference", help=HELP["plan reference"])
    reference.set_defaults(do=_plan_reference)
    schema = plan.add_parser("schema", help=HELP["plan schema"])
    schema.set_defaults(do=_plan_schema)
    check = plan.add_parser("check", help=HELP["plan check"])
    check.add_argument("file", type=Path, metavar="FILE", help=HELP["plan check FILE"])
    check.set_defaults(do=_plan_check)


def _plan_new(chosen: argparse.Namespace) -> int:
    from bot.rules.plan.new_plan_questions import defaults
    from bot.words.plan import new_plan_questions as words

    path = chosen.file or Path(words.FILE_NAME)
    answers = defaults(datetime.now().astimezone().date())
    try:
        if not chosen.yes:
            words.ask_all(answers, input, print)
        with path.open("x", encoding="utf-8") as file:
            file.write(words.plan_toml(answers))
    except FileExistsError:
        return complain(words.file_exists(str(path)))
    except OSError:
        return complain(words.cannot_write(str(path)))
    except (EOFError, KeyboardInterrupt):
        return complain(words.no_plan_made())
    print(words.plan_made(str(path)))
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
    from bot.rules.plan.oversized_plan_files import LARGEST
    from bot.words.plan.plan_check_report import plan_check_report

    try:
        with chosen.file.open("rb") as file:
            toml = file.read(LARGEST + 1)
    except OSError:
        return complain(file_errors.no_such_file(str(chosen.file)))
    report, good = plan_check_report(toml, datetime.now(UTC))
    print(report)
    return 0 if good else 1
