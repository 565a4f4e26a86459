"""What every squad reached in one measure, and what is still missing for it.

Counted are: official attempts that stand (not undone, no run-offs), the first ones up to the plan's number; sheets
that were handed in with every criterion marked, by judges who are not removed. What is due is what the book holds: an
open sheet of a judge whose marks count is a gap, never a zero. Squads that withdrew or were absent are no part of it.
"""

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from bot.rules.scoring.measures import (
    attempt_value,
    attempts_allowed,
    attempts_needed,
    sheet_value,
    squad_value,
)
from bot.rules.scoring.panel_rules import panel_values
from bot.rules.scoring.severity_model import Fit
from bot.rules.scoring.standings_records import AttemptScore, Gap, GapKind, SheetScore
from storage.records.people import Judge
from storage.records.plan import Event
from storage.records.plan_measures import Measure, Rubric
from storage.records.score_sheets import Sheet
from storage.records.scores import Attempt, ScoreBook


@dataclass(slots=True)
class Tally:
    """One measure of one event. A squad is in `values` (None: did not finish) or in `gaps`."""

    event: Event
    measure: Measure
    share: Fraction
    """The measure's share of the event, 0 to 1."""
    attempts: dict[int, tuple[AttemptScore, ...]] = field(default_factory=dict)
    sheets: dict[int, tuple[SheetScore, ...]] = field(default_factory=dict)
    values: dict[int, Fraction | None] = field(default_factory=dict)
    gaps: dict[int, tuple[Gap, ...]] = field(default_factory=dict)
    fit: Fit | None = None
    scaled: dict[int, Fraction] = field(default_factory=dict)
    """The values on the measure's scale, 0 for who did not finish."""

    @property
    def key(self) -> str:
        """`event.measure`."""
        return f"{self.event.key}.{self.measure.key}"

    def gap(
        self, kind: GapKind, have: int = 0, need: int = 0, judge: Judge | None = None, linked: tuple[int, ...] = ()
    ) -> Gap:
        """Something that is missing in this measure."""
        who, number = (None, None) if judge is None else (judge.id, judge.number)
        return Gap(kind, self.event.key, self.measure.key, who, number, have, need, linked)


@dataclass(frozen=True, slots=True)
class _Index:
    """The book's attempts and sheets by `event.measure` and squad."""

    attempts: Mapping[tuple[str, str, int], Sequence[Attempt]]
    sheets: Mapping[tuple[str, str, int], Sequence[Sheet]]
    judges: Mapping[int, Judge]
    weights: Mapping[int, Fraction]


def tallies(book: ScoreBook, taking_part: Callable[[Event], Collection[int]]) -> list[Tally]:
    """One tally for each measure, in the plan's order; `taking_part` says which squads are not absent from an event."""
    index = _index(book)
    results = []
    for event in book.plan.events:
        squads = taking_part(event)
        weight = sum(measure.weight for measure in event.measures)
        for measure in event.measures:
            tally = Tally(event, measure, share=Fraction(measure.weight) / Fraction(weight))
            if isinstance(measure, Rubric):
                _tally_sheets(tally, measure, squads, index)
            else:
                _tally_attempts(tally, squads, index)
            results.append(tally)
    return results


def criterion_values(tally: Tally, rubric: Rubric, criterion: str) -> dict[int, Fraction]:
    """One criterion's levels over the panel of each squad that has a value, by the rubric's own panel rule.

    As for whole sheets, every sheet that was handed in tells how harsh its judge is.
    """
    values, _ = panel_values(rubric.panel, tally.sheets, lambda sheet: Fraction(sheet.marks[criterion]))
    return {squad: value for squad, value in values.items() if squad in tally.values}


def _index(book: ScoreBook) -> _Index:
    attempts: dict[tuple[str, str, int], list[Attempt]] = defaultdict(list)
    for attempt in sorted(book.attempts, key=lambda attempt: (attempt.number, attempt.id)):
        if attempt.undone_at is None and not attempt.run_off:
            attempts[attempt.event, attempt.measure, attempt.squad_id].append(attempt)
    judges = {judge.id: judge for judge in book.judges if not judge.removed}
    sheets: dict[tuple[str, str, int], list[Sheet]] = defaultdict(list)
    for sheet in book.sheets:
        if sheet.judge_id in judges and sheet.state != "recused":
            sheets[sheet.event, sheet.measure, sheet.squad_id].append(sheet)
    # One and the same for all who weigh the same, which is then seen without comparing fractions.
    weights = {judge.weight: Fraction(judge.weight) for judge in judges.values()}
    return _Index(attempts, sheets, judges, {judge.id: weights[judge.weight] for judge in judges.values()})


def _tally_attempts(tally: Tally, squads: Iterable[int], index: _Index) -> None:
    measure = tally.measure
    assert not isinstance(measure, Rubric)
    allowed, needed = attempts_allowed(measure), attempts_needed(measure)
    for squad in squads:
        made = index.attempts.get((tally.event.key, measure.key, squad), ())
        made = made[-1:] if measure.kind == "share" else made[:allowed]
        scores = tuple(AttemptScore(each.id, each.number, attempt_value(measure, each)) for each in made)
        tally.attempts[squad] = scores
        if not scores:
            tally.gaps[squad] = (tally.gap("no_attempt", need=needed),)
        elif len(scores) < needed:
            tally.gaps[squad] = (tally.gap("too_few_attempts", have=len(scores), need=needed),)
        else:
            tally.values[squad] = squad_value(measure, [score.value for score in scores])


def _tally_sheets(tally: Tally, rubric: Rubric, squads: Iterable[int], index: _Index) -> None:
    keys = [criterion.key for criterion in rubric.criteria]
    for squad in squads:
        scores, gaps = [], []
        for sheet in index.sheets.get((tally.event.key, rubric.key, squad), ()):
            judge, weight = index.judges[sheet.judge_id], index.weights[sheet.judge_id]
            marks = {key: sheet.marks[key] for key in keys if key in sheet.marks}
            if sheet.state == "submitted" and len(marks) == len(keys):
                scores.append(SheetScore(judge.id, judge.number, weight, marks, sheet_value(rubric, marks)))
            elif weight > 0:
                gaps.append(tally.gap("open_sheet", judge=judge))
        if not gaps and all(score.shown_only for score in scores):
            gaps.append(tally.gap("no_sheet"))
        tally.sheets[squad] = tuple(sorted(scores, key=lambda score: score.judge_number))
        if gaps:
            tally.gaps[squad] = tuple(sorted(gaps, key=lambda gap: gap.judge_number or 0))
    values, tally.fit = panel_values(rubric.panel, tally.sheets)
    complete = {squad: value for squad, value in values.items() if squad not in tally.gaps}
    for part in () if tally.fit is None else _apart(tally.fit, complete):
        for squad in part:
            del complete[squad]
            tally.gaps[squad] = (tally.gap("unconnected", linked=part),)
    tally.values.update(complete)


def _apart(fitted: Fit, complete: Collection[int]) -> list[tuple[int, ...]]:
    """The complete squads of each part of a panel but the largest; of all parts where two are the largest."""
    kept = [tuple(squad for squad in part.squads if squad in complete) for part in fitted.parts]
    kept = sorted((part for part in kept if part), key=len, reverse=True)
    alone = len(kept) == 1 or (len(kept) > 1 and len(kept[0]) > len(kept[1]))
    return kept[1:] if alone else kept
