"""A whole season as one command: it is played, what it leaves behind is written, and how it went is printed."""

from __future__ import annotations

import asyncio
import gc
import sys
from pathlib import Path
from typing import Any

from deploy.rehearsal.page import SmallPictures
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.season.bot_process import BotDied
from deploy.rehearsal.season.early_bot import EarlyBot
from deploy.rehearsal.season.figures_and_printed_standings import (
    season_figures,
    standings_text,
    write_figures,
    write_transcript,
)
from deploy.rehearsal.season.output_page import PAGE, write_output_page
from deploy.rehearsal.season.play import Played, play
from deploy.rehearsal.season.season_settings import Script, script
from deploy.rehearsal.server.stepped_clock import ClockStuck
from deploy.rehearsal.world.state import File

STEPS = 7


def rehearse(
    out: Path, seed: int, plan: Path | None, trouble: frozenset[str], early: EarlyBot | None, *, quiet: bool
) -> int:
    """Play a season into a folder; returns 0, 1 when something was lost or doubled, or 2 for a plan that is none.

    `early` is the bot, where it was begun before.
    """
    try:
        played = script(seed, None if plan is None else plan.read_bytes(), trouble)
    except (OSError, ValueError) as error:
        print(f"{error}", file=sys.stderr)
        return 2
    out.mkdir(parents=True, exist_ok=True)
    # What people saw only grows: looking through it for rubbish again and again finds none.
    gc.set_threshold(50_000, 10, 1000)
    try:
        return asyncio.run(_rehearse(played, out, early, quiet=quiet))
    except (BotDied, CastMistake, ClockStuck) as error:
        print(f"The rehearsal broke off: {error}\nThe bot's log is {out / 'bot.log'}.", file=sys.stderr)
        return 1


class Report:
    """Writes what a season leaves behind."""

    def __init__(self, out: Path) -> None:
        self._out = out
        # One processor is for the season, so one thread makes pictures of what was seen beside it.
        self._pictures = SmallPictures(threads=1)
        self.figures: dict[str, Any] = {}

    def on_file(self, key: str, file: File) -> None:
        """Begin with a picture that was seen."""
        self._pictures.begin(key, file)

    def write(self, played: Played) -> None:
        """Write figures, transcript and page."""
        self.figures = season_figures(played)
        write_figures(self.figures, self._out)
        write_transcript(played, self._out)
        write_output_page(played, self.figures, self._out, self._pictures)


async def _rehearse(wanted: Script, out: Path, early: EarlyBot | None, *, quiet: bool) -> int:
    done = 0

    def progress(what: str) -> None:
        nonlocal done
        done += 1
        if not quiet:
            bar = "=" * done + "." * (STEPS - done)
            print(f"[{bar}] {what}", flush=True)

    report = Report(out)
    progress("The coach sets up")
    played = await play(wanted, out, progress, to_the_end=False, report=report, early=early)
    if played.broke_off:
        print(f"The rehearsal broke off. {played.broke_off}\nThe bot's log is {out / 'bot.log'}.", file=sys.stderr)
    print(standings_text(played.standings))
    if not quiet:
        print(f"\nWhat everyone saw: {out / PAGE}\nFigures: {out / 'season.json'}")
    good = not (report.figures["lost"] or report.figures["doubled"] or played.broke_off)
    return 0 if good else 1
