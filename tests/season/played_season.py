"""Playing seasons for the checks: the real bot process, the class server on loopback, SQLite's own checks."""

import asyncio
import json
import sqlite3
from contextlib import closing
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Any

from deploy.rehearsal.season.figures_and_printed_standings import season_figures, write_figures, write_transcript
from deploy.rehearsal.season.output_page import write_output_page
from deploy.rehearsal.season.play import Played, play
from deploy.rehearsal.season.season_settings import script
from deploy.rehearsal.season.troubles import wanted_kinds
from tests.season.expected_outcome import Oracle


@dataclass(frozen=True)
class Season:
    """A season that was played into a folder."""

    out: Path
    played: Played
    figures: dict[str, Any]
    checked: int
    """How often the database was looked at after a power cut."""

    @cached_property
    def oracle(self) -> Oracle:
        """What must have come of it, beside what came."""
        entries = [entry.as_json() for entry in self.played.server.transcript.entries]
        announced = tuple(self._packets(private=False))
        return Oracle(entries, self._packets()[-1], announced[:-1], rough=self.played.stage.rough)

    def _packets(self, *, private: bool | None = None) -> list[Any]:
        """The results packets that the coach sees in the office; or only those for one person, or for all coaches."""
        coach = self.played.stage.coach
        there = [shown for shown in coach.see("coach-office") if private in (None, shown.private)]
        files = [file for shown in there for file in shown.files if file.name.endswith(".json")]
        return [json.loads(coach.download(file)) for file in files]

    @property
    def transcript(self) -> bytes:
        """What each person saw, byte for byte."""
        return (self.out / "transcript.jsonl").read_bytes()


def play_season(out: Path, seed: int, trouble: tuple[str, ...] = (), *, short: bool = False) -> Season:
    """Play one season; after every power cut the database must pass SQLite's own checks.

    A `short` season has seven squads and three judges, and everything else that a whole one has.
    """
    looks = 0

    def look(database: Path) -> None:
        nonlocal looks
        looks += 1
        with closing(sqlite3.connect(database)) as connection:
            for check in ("quick_check", "integrity_check", "foreign_key_check"):
                found = connection.execute(f"PRAGMA {check}").fetchall()
                assert found in ([], [("ok",)]), (check, found)

    out.mkdir(parents=True, exist_ok=True)
    wanted = script(seed, None, wanted_kinds(list(trouble)))
    if short:
        wanted = replace(wanted, squads=7, judges=3)
    played = asyncio.run(play(wanted, out, lambda _: None, look))
    figures = season_figures(played)
    write_figures(figures, out)
    write_transcript(played, out)
    return Season(out, played, figures, looks)


@dataclass(frozen=True)
class Outcome:
    """What is compared between a season and another one of the same number."""

    standings: list[dict[str, Any]]
    transcript: bytes
    page: bytes


def undisturbed_outcome(out: Path, seed: int) -> Outcome:
    """The outcome of a short undisturbed season, for another process."""
    season = play_season(out, seed, short=True)
    page = write_output_page(season.played, season.figures, season.out)
    return Outcome(season.figures["standings"], season.transcript, page.read_bytes())
