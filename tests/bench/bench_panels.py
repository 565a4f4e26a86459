"""Sharing 12 judges out to 30 squads, with ties of interest and seats that the coach has fixed."""

import subprocess
import sys
import time
from collections.abc import Iterator
from random import Random
from statistics import median

from bot.rules.judging.compute_panel import Obstacle, Panel, Problem, assign
from tests.bench.report import Line, at_most
from tests.bench.timed_programs import ROOT

SQUADS, JUDGES = 30, 12
LIMIT_S = 2.0
_FIRST = """
import time
from bot.rules.judging.compute_panel import Problem, assign
began = time.perf_counter()
assign(Problem(squads=tuple(range(30)), judges=tuple(range(100, 112)), per_squad=4))
print(time.perf_counter() - began)
"""


def lines(quick: bool = False) -> Iterator[Line]:
    """The first panel of a process, which imports the solver, and panels of several sizes after it."""
    shown = subprocess.run([sys.executable, "-c", _FIRST], cwd=ROOT, capture_output=True, text=True, check=True)
    first = float(shown.stdout)
    yield at_most("panel, the solver still to import", f"{first:.2f} s: 12 judges, 30 squads, 4 each", first, LIMIT_S,
                  "at most 2 s")  # fmt: skip
    for per_squad in (2, 3, 4, 6):
        seeds = range(2 if quick else 6)
        problems = [_problem(per_squad, seed) for seed in seeds]
        taken = [_seconds(problem) for problem in problems]
        text = f"median {median(taken):.2f} s, longest {max(taken):.2f} s: {per_squad} each, {len(problems)} cases"
        yield at_most("panel with ties and fixed seats", text, max(taken), LIMIT_S, "at most 2 s")


def _problem(per_squad: int, seed: int) -> Problem:
    """Every judge is tied to one or two squads, and the coach has fixed three seats."""
    dice = Random(seed)
    squads, judges = tuple(range(1, SQUADS + 1)), tuple(range(101, 101 + JUDGES))
    tied = frozenset((squad, judge) for judge in judges for squad in dice.sample(squads, dice.randint(1, 2)))
    free = [(squad, judge) for squad in squads for judge in judges if (squad, judge) not in tied]
    return Problem(squads, judges, per_squad, tied, frozenset(dice.sample(free, 3)))


def _seconds(problem: Problem) -> float:
    began = time.perf_counter()
    found = assign(problem)
    taken = time.perf_counter() - began
    if isinstance(found, Obstacle):
        raise ValueError(f"no panel: {found}")
    _check(problem, found)
    return taken


def _check(problem: Problem, found: Panel) -> None:
    """A quick answer that is wrong is no answer."""
    seen = {squad: sum(other == squad for other, _ in found.seats) for squad in problem.squads}
    loads = found.loads.values()
    sound = set(seen.values()) == {problem.per_squad} and max(loads) - min(loads) <= 1 and len(found.parts) == 1
    if not sound or found.seats & problem.tied or not problem.fixed <= found.seats:
        raise ValueError(f"a wrong panel for {problem}")
