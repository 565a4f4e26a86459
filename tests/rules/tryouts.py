"""Whole try-outs for the checks and the measurements: the worked one, and random ones of any size."""

from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np

from storage.records.scores import ScoreBook
from tests.rules.books import attempt, count, event, judges, plan, rubric, sheet, squads, timed
from tests.rules.reference import reference


def tryout_h1(panel: str) -> tuple[ScoreBook, dict[str, Any]]:
    """Reference H1: three events end to end."""
    example = reference("H1")
    given, names = example["input"], example["input"]["squads"]
    weight = dict(zip("abc", ("40", "35", "25"), strict=True))
    top = given["rubric_top_level"]
    marked = [rubric(key, weights=[1], levels=5) for key in ("teamwork", "communication")]
    relay = timed("relay", scale="best", weight=Decimal(2), fault_seconds=Decimal(5))
    events = (
        event("a", count("run", scale="best", attempts=2), weight=weight["a"]),
        event("b", rubric("project", weights=given["rubric_weights"], levels=top, panel=panel), weight=weight["b"]),
        event("c", relay, *marked, weight=weight["c"]),
    )
    attempts, sheets = [], []
    for number, name in enumerate(names, start=1):
        for turn, items in enumerate(given["robot_items"][name], start=1):
            attempts.append(attempt(number, "a.run", core=given["points_per_item"] * items, number=turn))
        go = given["challenge"][name]
        seconds = Decimal(Fraction(go["seconds"]).numerator) / Decimal(Fraction(go["seconds"]).denominator)
        attempts.append(attempt(number, "c.relay", seconds=seconds, faults=go["penalties"]))
        for part in ("teamwork", "communication"):
            sheets += [sheet(number, judge, f"c.{part}", [mark]) for judge, mark in enumerate(go[part], start=1)]
    for name, judge, marks in given["project_scores"]:
        sheets.append(sheet(names.index(name) + 1, int(judge[1:]), "b.project", marks))
    book = ScoreBook(
        plan=plan(*events), squads=squads(3), judges=judges(1, 1, 1), attempts=tuple(attempts), sheets=tuple(sheets)
    )
    return book, example["expected"]


def random_tryout(
    how_many: int = 14,
    panel_size: int = 6,
    criteria: int = 5,
    seen_by: int | None = None,
    panel: str = "mean",
    seed: int = 1,
) -> ScoreBook:
    """A counted run, a judged piece and a timed relay; every judge sees every squad, or `seen_by` of them each."""
    chance = np.random.default_rng(seed)
    events = (
        event("run", count("samples", attempts=2), weight=40),
        event("art", rubric("patch", weights=[1] * criteria, levels=5, panel=panel), weight=30),
        event("go", timed("relay"), weight=30),
    )
    everybody = np.arange(1, panel_size + 1)
    attempts, sheets = [], []
    for squad in range(1, how_many + 1):
        for number in (1, 2):
            cores = int(chance.integers(10, 90))
            attempts.append(attempt(squad, "run.samples", number=number, core=cores, id=10 * squad + number))
        seconds = Decimal(int(chance.integers(600, 2900))) / 10
        attempts.append(attempt(squad, "go.relay", seconds=seconds, id=10 * squad + 3))
        panel_of = everybody if seen_by is None else np.sort(chance.choice(everybody, seen_by, replace=False))
        sheets += [sheet(squad, j, "art.patch", chance.integers(1, 6, criteria).tolist()) for j in panel_of.tolist()]
    return ScoreBook(
        plan=plan(*events),
        squads=squads(how_many),
        judges=judges(*[1] * panel_size),
        attempts=tuple(attempts),
        sheets=tuple(sheets),
    )
