"""Who would hold the places if one thing were changed, without computing everything anew.

A total is a sum of what each measure gives, so a judge or criterion less, or another scale, moves it only by what the
measures concerned give more or less. Exactly what `standings` of the changed book would say; None where that must be
asked, because a squad would have no value left or equal totals would have to be parted.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from bot.rules.scoring.panel_rules import panel_value, panel_values
from bot.rules.scoring.places_on_team import contests, share_out
from bot.rules.scoring.ranking import rank
from bot.rules.scoring.scales import Roots, Scale, scaled
from bot.rules.scoring.standings import HUNDRED, measured
from bot.rules.scoring.standings_records import SheetScore, Standings
from bot.rules.scoring.tally import Tally
from storage.records.plan_measures import Measure, Rubric
from storage.records.scores import ScoreBook

Values = Mapping[int, Fraction | None]


@dataclass(frozen=True, slots=True)
class _Part:
    """One measure, and what a point of its scale is worth in each squad's total."""

    tally: Tally
    factors: Mapping[int, Fraction]


class SingleChanges:
    """The places under single changes of a book in which every squad is ranked."""

    def __init__(self, book: ScoreBook, result: Standings) -> None:
        self._book = book
        self._totals = {row.squad_id: row.total or Fraction(0) for row in result.rows}
        self._complete = result.complete and bool(result.rows)
        self._roots = Roots()
        self._parts = []
        if not self._complete:
            return
        shares = {
            event.key: {
                row.squad_id: HUNDRED * one.share
                for row in result.rows
                for one in row.events
                if one.key == event.key and one.state == "scored"
            }
            for event in book.plan.events
        }
        for tally in measured(book, self._roots):
            factors = {squad: share * tally.share for squad, share in shares[tally.event.key].items()}
            self._parts.append(_Part(tally, factors))

    def without_judge(self, judge_id: int) -> tuple[int, ...] | None:
        """The squads that would hold the places, best first, had this judge been on no panel."""

        def values(tally: Tally, rubric: Rubric) -> Values | None:
            sheets = {
                squad: tuple(sheet for sheet in own if sheet.judge_id != judge_id)
                for squad, own in tally.sheets.items()
            }
            touched = {squad for squad, own in sheets.items() if len(own) < len(tally.sheets[squad])}
            if not touched:
                return tally.values
            return _panels(tally, rubric, sheets, touched)

        return self._placed(values, lambda measure: measure)

    def without_criterion(self, where: str, criterion: str) -> tuple[int, ...] | None:
        """The same without one criterion of the rubric `event.measure`."""

        def values(tally: Tally, rubric: Rubric) -> Values | None:
            if tally.key != where:
                return tally.values
            [weight] = [Fraction(one.weight) for one in rubric.criteria if one.key == criterion]
            sheets = {
                squad: tuple(replace(one, value=one.value - weight * one.marks[criterion]) for one in own)
                for squad, own in tally.sheets.items()
            }
            return _panels(tally, rubric, sheets, set(sheets))

        def rest(measure: Measure) -> Measure:
            if not isinstance(measure, Rubric):
                return measure
            return measure.model_copy(update={"criteria": tuple(c for c in measure.criteria if c.key != criterion)})

        return self._placed(values, rest, only=where)

    def on_scale(self, scale: Scale) -> tuple[int, ...] | None:
        """The same with every measure on this scale.

        Raises Refusal: what `scaled` raises.
        """
        return self._placed(
            lambda tally, _: tally.values, lambda measure: measure.model_copy(update={"scale": scale}), only=""
        )

    def _placed(
        self,
        values_of: Callable[[Tally, Rubric], Values | None],
        measure_of: Callable[[Measure], Measure],
        only: str | None = None,
    ) -> tuple[int, ...] | None:
        """`only`: the measure that changes besides its values, `event.measure`; all of them where it is empty."""
        if not self._complete:
            return None
        totals, roots = dict(self._totals), self._roots.copy()
        for part in self._parts:
            tally = part.tally
            values = values_of(tally, tally.measure) if isinstance(tally.measure, Rubric) else tally.values
            if values is None:
                return None
            measure = measure_of(tally.measure) if only in ("", tally.key) else tally.measure
            if values is tally.values and measure is tally.measure:
                continue
            points = scaled(measure, values, roots)
            for squad, factor in part.factors.items():
                if points[squad] != tally.scaled[squad]:
                    totals[squad] += factor * (points[squad] - tally.scaled[squad])
        ranking = rank(totals, [])
        shared = share_out(ranking, contests(self._book.plan, self._book.squads, totals))
        tied = {squad for tie in ranking.ties for squad in tie.squads}
        return None if shared.straddles or tied & set(shared.held) else shared.held


def _panels(
    tally: Tally, rubric: Rubric, sheets: Mapping[int, Sequence[SheetScore]], touched: set[int]
) -> Values | None:
    """The values over these sheets, new for the squads that are touched; None where not every squad has one."""
    counted = {squad: [one for one in own if not one.shown_only] for squad, own in sheets.items()}
    if not all(counted[squad] for squad in tally.values):
        return None
    rule: str = rubric.panel
    if rule == "adjusted" and len({tuple(one.judge_id for one in own) for own in counted.values() if own}) == 1:
        # Where every judge saw every squad, adjusted means are plain ones: those of all squads, since the means so far
        # may be adjusted for the judge who is left out here.
        rule, touched = "mean", set(counted)
    if rule == "adjusted":
        values, fitted = panel_values(rule, counted)
        return None if fitted is None or not fitted.connected else values
    again = {
        squad: panel_value(rule, [(one.value, one.weight) for one in counted[squad]])
        for squad in touched
        if squad in tally.values
    }
    return {squad: again.get(squad, value) for squad, value in tally.values.items()}
