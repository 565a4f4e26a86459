"""How often each squad would hold a place if the panel had been another draw of the same judges.

Judges are drawn with replacement, as many as there are; the sheets of one drawn twice lie there twice, as if two judges
had marked alike (B. Efron 1979). With up to six judges all draws are gone through, so that the shares are exact
fractions; with more, draws are made with a seed. Reference table D2.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations_with_replacement
from math import factorial, prod

from bot.rules.scoring.panel_rules import panel_values
from bot.rules.scoring.places_on_team import contests, share_out
from bot.rules.scoring.ranking import rank
from bot.rules.scoring.scales import Roots, scaled
from bot.rules.scoring.standings import HUNDRED, measured, standings
from bot.rules.scoring.standings_records import Standings
from bot.rules.scoring.tally import Tally
from storage.records.plan_measures import Rubric
from storage.records.scores import ScoreBook

EXACT_UP_TO = 6
RESAMPLES = 500


@dataclass(frozen=True, slots=True)
class JudgeBootstrap:
    """Shares of all usable draws; nobody has one with fewer than two judges, or when no draw is of use."""

    judges: int
    """Judges whose marks count; below two there is no other draw of them."""
    draws: int
    """How many were gone through: all judges^judges of them when `exact`, otherwise as many as were made."""
    share: Mapping[int, Fraction]
    """By squad: how often it holds a place; squads that tie for the last ones share them evenly."""
    sole: Mapping[int, Fraction]
    """By squad: how often it holds a place without such a tie."""
    exact: bool
    usable: Fraction
    """Share of draws in which every squad had a judge and could be compared; the others are left out."""


def judge_bootstrap(book: ScoreBook, seed: int = 1, resamples: int = RESAMPLES) -> JudgeBootstrap:
    """Draw the judges whose marks count again and again, and see who holds the places by the totals alone.

    Squads that are not ranked in the official standings take no part. Raises what `standings` raises.
    """
    result = standings(book)
    roots = Roots()
    tallies = [tally for tally in measured(book, roots) if isinstance(tally.measure, Rubric)]
    judges = sorted({s.judge_id for tally in tallies for each in tally.sheets.values() for s in each if s.weight > 0})
    exact = len(judges) <= EXACT_UP_TO
    if not result.rows or len(judges) < 2:
        return JudgeBootstrap(len(judges), 0, {}, {}, exact, Fraction(0))
    parts = [_Part(tally, result) for tally in tallies]
    share: dict[int, Fraction] = {row.squad_id: Fraction(0) for row in result.rows}
    sole = dict(share)
    tried = used = 0
    for times, ways in _all_draws(judges) if exact else _some_draws(judges, seed, resamples):
        tried += ways
        totals = _totals(parts, result, times, roots.copy())
        if totals is None:
            continue
        used += ways
        shared = share_out(rank(totals, []), contests(book.plan, book.squads, totals))
        for squad in shared.held:
            share[squad] += ways
            sole[squad] += ways
        for tie in shared.straddles:
            for squad in tie.squads:
                share[squad] += Fraction(ways * tie.places_left, len(tie.squads))
    return JudgeBootstrap(
        judges=len(judges),
        draws=tried,
        share={squad: value / used for squad, value in share.items()} if used else {},
        sole={squad: value / used for squad, value in sole.items()} if used else {},
        exact=exact,
        usable=Fraction(used, tried),
    )


class _Part:
    """One rubric's part of the totals: a total is what the other measures give, plus factor x scaled value."""

    def __init__(self, tally: Tally, result: Standings) -> None:
        self.tally = tally
        self.factors = {
            row.squad_id: HUNDRED * event.share * tally.share
            for row in result.rows
            for event in row.events
            if event.key == tally.event.key and event.state == "scored"
        }

    def change(self, times: Mapping[int, int], roots: Roots) -> dict[int, Fraction] | None:
        """By squad: what its total gains or loses under this draw of judges; None when not all can be compared."""
        tally = self.tally
        assert isinstance(tally.measure, Rubric)
        values, fitted = panel_values(tally.measure.panel, tally.sheets, copies=times)
        if not tally.values.keys() <= values.keys():
            return None
        if fitted is not None and not any(tally.values.keys() <= set(part.squads) for part in fitted.parts):
            return None
        points = scaled(tally.measure, {squad: values[squad] for squad in tally.values}, roots)
        return {squad: factor * (points[squad] - tally.scaled[squad]) for squad, factor in self.factors.items()}


def _totals(
    parts: Iterable[_Part], result: Standings, times: Mapping[int, int], roots: Roots
) -> dict[int, Fraction] | None:
    totals = {row.squad_id: row.total or Fraction(0) for row in result.rows}
    for part in parts:
        change = part.change(times, roots)
        if change is None:
            return None
        for squad, difference in change.items():
            totals[squad] += difference
    return totals


def _all_draws(judges: list[int]) -> Iterable[tuple[Counter[int], int]]:
    """Every draw once, with the number of ways in which it comes about."""
    for drawn in combinations_with_replacement(judges, len(judges)):
        times = Counter(drawn)
        yield times, factorial(len(judges)) // prod(map(factorial, times.values()))


def _some_draws(judges: list[int], seed: int, resamples: int) -> Iterable[tuple[Counter[int], int]]:
    import numpy as np

    chance = np.random.default_rng(seed)
    for drawn in chance.integers(len(judges), size=(resamples, len(judges))):
        yield Counter(judges[place] for place in drawn), 1


def most_often(drawn: JudgeBootstrap, numbers: Mapping[int, int]) -> list[tuple[int, Fraction]]:
    """The squads that ever hold a place, with their shares, by these; equal ones by their `numbers` (by squad id)."""
    ordered = sorted(drawn.share.items(), key=lambda entry: (-entry[1], numbers[entry[0]]))
    return [(squad, share) for squad, share in ordered if share > 0]
