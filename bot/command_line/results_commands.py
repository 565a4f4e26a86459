"""The commands about results: `standings`, `verify`, `packet`."""

import argparse
import asyncio
from pathlib import Path
from typing import Any

from bot.command_line.command_output import complain, print_report
from bot.words.core import file_errors
from bot.words.core.command_line_help import HELP


def add_to(commands: Any) -> None:
    """Add these commands to those of the command line (`argparse` gives their collection no public type)."""
    standings = commands.add_parser("standings", help=HELP["standings"])
    standings.add_argument("--database", type=Path, required=True, metavar="FILE", help=HELP["--database"])
    standings.set_defaults(do=_standings)

    verify = commands.add_parser("verify", help=HELP["verify"])
    verify.add_argument("packet", type=Path, metavar="PACKET", help=HELP["verify PACKET"])
    verify.add_argument("--database", type=Path, metavar="FILE", help=HELP["verify --database"])
    verify.set_defaults(do=_verify)

    packet = commands.add_parser("packet", help=HELP["packet"])
    packet.add_argument("--database", type=Path, required=True, metavar="FILE", help=HELP["--database"])
    packet.add_argument("--to", type=Path, metavar="PACKET", help=HELP["packet --to"])
    packet.set_defaults(do=_packet)


def _standings(chosen: argparse.Namespace) -> int:
    from bot.actions.scoring.command_line_standings import standings_report

    if not chosen.database.is_file():
        return complain(file_errors.no_such_file(str(chosen.database)))
    return print_report(chosen.database, lambda: (asyncio.run(standings_report(chosen.database)), True))


def _verify(chosen: argparse.Namespace) -> int:
    from bot.actions.scoring.command_line_packet import verify_report
    from bot.rules.scoring.packet import LARGEST

    for file in (chosen.packet, chosen.database):
        if file is not None and not file.is_file():
            return complain(file_errors.no_such_file(str(file)))

    def make() -> tuple[str, bool]:
        with chosen.packet.open("rb") as file:
            packet = file.read(LARGEST + 1)
        return asyncio.run(verify_report(packet, chosen.database))

    return print_report(chosen.database or chosen.packet, make)


def _packet(chosen: argparse.Namespace) -> int:
    from bot.actions.scoring.command_line_packet import newest_packet
    from bot.words.scoring import command_line_packet, command_line_standings

    if not chosen.database.is_file():
        return complain(file_errors.no_such_file(str(chosen.database)))

    def make() -> tuple[str, bool]:
        text = asyncio.run(newest_packet(chosen.database))
        if text is None:
            return command_line_standings.nothing(), False
        if chosen.to is None:
            return text.rstrip("\n"), True
        chosen.to.write_text(text, "utf-8", newline="\n")
        return command_line_packet.written(str(chosen.to)), True

    return print_report(chosen.database, make)
