"""The panels with harsh and lenient judges evened out, whatever rule the plan has: for a look, not for the result."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from bot.rules.analysis.agreement import counted_sheets, observations
from bot.rules.analysis.confidence_intervals import reach
from bot.rules.analysis.standard_errors import precision
from bot.rules.analysis.what_if import with_panel
from bot.rules.judging.judged_rubrics import rubrics
from bot.rules.scoring.severity_model import Fit, fit
from bot.rules.scoring.standings import standings
from bot.rules.scoring.standings_records import Standings
from storage.records.plan import Plan
from storage.records.scores import ScoreBook

EVEN = ("mean", "adjusted")
"""Panel rules that give every squad its plain mean where all judges saw all squads."""


@dataclass(frozen=True, slots=True)
class Evened:
    """One rubric, fitted."""

    event: str
    measure: str
    fit: Fit
    complete: bool
    """Whether every judge saw every squad: then adjusted means equal plain ones."""
    errors: Mapping[int, float]
    """Standard errors of the judge effects, by judge; empty when nothing is left to estimate chance by."""

    def reach(self, judge_id: int) -> float | None:
        """How far the interval of a judge's effect goes to either side; None where that cannot be told."""
        error = self.errors.get(judge_id)
        return None if error is None else reach(error, self.fit.freedom)


def evened(result: Standings) -> tuple[Evened, ...]:
    """Each rubric that has counted sheets, in the plan's order."""
    found = []
    for (event, measure), by_squad in counted_sheets(result).items():
        if not by_squad:
            continue
        seen = observations(by_squad)
        weights: dict[int, Fraction] = {sheet.judge_id: sheet.weight for each in by_squad.values() for sheet in each}
        fitted = fit(seen, weights)
        sure = precision(seen, fitted, weights)
        panels = {tuple(sheet.judge_id for sheet in each) for each in by_squad.values()}
        found.append(Evened(event, measure, fitted, len(panels) == 1, {} if sure is None else sure.effects))
    return tuple(found)


def evened_standings(book: ScoreBook) -> Standings:
    """The standings as they would be with the panel rule `adjusted` everywhere."""
    return standings(with_panel(book, "adjusted"))


def nobody_gains(plan: Plan, found: Sequence[Evened]) -> bool:
    """Whether harsh and lenient judges move no value: all of them saw all squads, and the plan takes their mean."""
    panels = {(event.key, rubric.key): rubric.panel for event, rubric in rubrics(plan)}
    return all(one.complete and panels[one.event, one.measure] in EVEN for one in found)


def holders(found: Standings) -> tuple[set[int], set[int]]:
    """Who holds the places, and who ties for the last ones, in whatever order."""
    return set(found.placed), set() if found.straddle is None else set(found.straddle.squads)
