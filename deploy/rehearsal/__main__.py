"""`tenbell rehearse`: a whole made-up try-out on this machine, with the real bot, in less than a minute."""

import argparse
import asyncio
import gc
import os
import sys
from pathlib import Path
from typing import Any

from deploy.rehearsal.page import SmallPictures
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.season.bot_process import BotDied
from deploy.rehearsal.season.output_page import PAGE, write_output_page
from deploy.rehearsal.season.play import Played, play
from deploy.rehearsal.season.power_cuts_and_full_disk import TROUBLES, wanted_kinds
from deploy.rehearsal.season.report import season_figures, standings_text, write_figures, write_transcript
from deploy.rehearsal.season.season_script import Script, script
from deploy.rehearsal.server.stepped_clock import ClockStuck

STEPS = 7


def main() -> int:
    """Play a season, print the standings and where the results lie; 1 when something was lost or doubled."""
    chosen = _parser().parse_args()
    try:
        plan = None if chosen.plan is None else chosen.plan.read_bytes()
        played = script(chosen.seed, plan, wanted_kinds(chosen.trouble))
    except (OSError, ValueError) as error:
        print(f"{error}", file=sys.stderr)
        return 2
    out: Path = chosen.out
    if (out / "tenbell.db").exists():
        print(f"{out} holds a rehearsal already; name another folder with --out, or delete it.", file=sys.stderr)
        return 2
    out.mkdir(parents=True, exist_ok=True)
    # What people saw only grows: looking through it for rubbish again and again finds none.
    gc.set_threshold(50_000, 10, 1000)
    try:
        return asyncio.run(_rehearse(played, out, quiet=chosen.quiet))
    except (BotDied, CastMistake, ClockStuck) as error:
        print(f"The rehearsal broke off: {error}\nThe bot's log is {out / 'bot.log'}.", file=sys.stderr)
        return 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tenbell rehearse",
        description="Play a made-up try-out from the first day to the result: the real bot, a class server on this "
        "machine, and invented people on their phones. Nothing leaves this machine.",
    )
    parser.add_argument("--out", type=Path, default=Path("rehearsal"), metavar="DIR", help="folder for the results")
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="another number, another season (default 1)")
    parser.add_argument("--plan", type=Path, metavar="FILE", help="rehearse your own plan instead of the built-in one")
    parser.add_argument(
        "--trouble",
        nargs="+",
        choices=TROUBLES,
        default=[],
        metavar="KIND",
        help=f"let things go wrong: {', '.join(TROUBLES)}",
    )
    parser.add_argument("--quiet", action="store_true", help="print the standings only")
    return parser


async def _rehearse(wanted: Script, out: Path, *, quiet: bool) -> int:
    done = 0

    def progress(what: str) -> None:
        nonlocal done
        done += 1
        if not quiet:
            bar = "=" * done + "." * (STEPS - done)
            print(f"[{bar}] {what}", flush=True)

    figures: dict[str, Any] = {}
    # One processor is for the season, so one thread makes pictures of what was seen beside it.
    pictures = SmallPictures(threads=1)

    def report(played: Played) -> None:
        figures.update(season_figures(played))
        write_figures(figures, out)
        write_transcript(played, out)
        write_output_page(played, figures, out, pictures)

    progress("The coach sets up")
    played = await play(wanted, out, progress, to_the_end=False, on_file=pictures.begin, report=report)
    if played.broke_off:
        print(f"The rehearsal broke off. {played.broke_off}\nThe bot's log is {out / 'bot.log'}.", file=sys.stderr)
    print(standings_text(played.standings))
    if not quiet:
        print(f"\nWhat everyone saw: {out / PAGE}\nFigures: {out / 'season.json'}")
    good = not (figures["lost"] or figures["doubled"] or played.broke_off)
    return 0 if good else 1


if __name__ == "__main__":
    code = main()
    sys.stdout.flush()
    # Everything is written: to take the season apart piece by piece before the end would be waited for in vain.
    os._exit(code)
