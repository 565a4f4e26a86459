"""How each judge marks: severity, spread, consistency, single-level sheets, halo; and where judges are far apart.

For the coach's eyes and for a second look at a sheet, never a verdict on a person: with a handful of squads each of
these numbers is uncertain. An additive correction mends severity only, not halo or a narrow range (Myford and Wolfe
2003). Judges who do not count are left out.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import sqrt

from bot.rules.analysis.agreement import counted_sheets, observations
from bot.rules.judging.second_look import MarkGap, far_apart
from bot.rules.scoring.severity_model import Fit, fit
from bot.rules.scoring.standings_records import SheetScore, Standings

HARDLY = 0.05
"""Sheet points, harsh or lenient, of which nothing is said: they would be shown as 0.0."""
MANY_SHEETS = 5
"""With so many sheets something can be said of how one judge marks."""
HALO = 0.8
"""From so much on that all criteria move together is worth a word."""
FEWEST_SHARED = 2
"""Of one squad that others have marked, too, nothing follows about how a judge marks (common practice, no source)."""
FEWEST_PAIRS = 3
"""Two points always lie on a line."""


@dataclass(frozen=True, slots=True)
class JudgeView:
    """How one judge marks under one rubric."""

    event: str
    measure: str
    judge_id: int
    judge_number: int
    sheets: int
    shared: int
    """Of these sheets, those of squads that another judge whose marks count has marked, too."""
    severity: Fraction
    """Sheet points below what the average judge of the panel would have given; negative is lenient. By the judges'
    weights, so that it is minus the effect that a rubric of panel `adjusted` is corrected by."""
    spread: float | None
    """Standard deviation of the judge's sheets, in sheet points; None below two sheets."""
    consistency: float | None
    """Pearson's correlation, unweighted, of the judge's sheets with the mean of the same squads' other judges, severity
    aside; None below three common squads."""
    single_level: Fraction | None
    """Share of sheets with the same level throughout; None under a rubric of one criterion."""
    halo: float | None
    """Mean of Pearson's correlations, unweighted, among the criteria over the judge's sheets: near 1, all criteria move
    together; None where no two criteria vary over three sheets."""

    @property
    def is_compared(self) -> bool:
        """Whether harsh can be told from lenient: with too few squads in common with others it cannot."""
        return self.shared >= FEWEST_SHARED

    @property
    def is_harsh_or_lenient(self) -> bool:
        """Whether the judge marks so far from the average judge that it is said."""
        return abs(float(self.severity)) >= HARDLY

    @property
    def tells_single_level(self) -> bool:
        """Whether sheets of one level throughout are worth a word."""
        return bool(self.single_level) and self.sheets >= MANY_SHEETS

    @property
    def tells_halo(self) -> bool:
        """Whether it is worth a word that all criteria move together."""
        return self.halo is not None and self.halo > HALO and self.sheets >= MANY_SHEETS


def judge_views(result: Standings) -> tuple[JudgeView, ...]:
    """How each judge whose marks count marks, rubric by rubric in the plan's order, by the judges' numbers."""
    views = []
    for (event, measure), by_squad in counted_sheets(result).items():
        if not by_squad:
            continue
        weights = {sheet.judge_id: sheet.weight for sheets in by_squad.values() for sheet in sheets}
        fitted = fit(observations(by_squad), weights)
        own: dict[int, dict[int, SheetScore]] = {}
        for squad, sheets in by_squad.items():
            for sheet in sheets:
                own.setdefault(sheet.judge_id, {})[squad] = sheet
        for judge, sheets_of in sorted(own.items(), key=lambda entry: next(iter(entry[1].values())).judge_number):
            kept = list(sheets_of.values())
            views.append(
                JudgeView(
                    event=event,
                    measure=measure,
                    judge_id=judge,
                    judge_number=kept[0].judge_number,
                    sheets=len(kept),
                    shared=sum(len(by_squad[squad]) > 1 for squad in sheets_of),
                    severity=-fitted.effects[judge],
                    spread=standard_deviation([float(sheet.value) for sheet in kept]),
                    consistency=_consistency(judge, by_squad, fitted),
                    single_level=_single_level(kept),
                    halo=_halo(kept),
                )
            )
    return tuple(views)


def mark_gaps(result: Standings) -> tuple[MarkGap, ...]:
    """All criteria on which two judges of one squad are far apart (`far_apart`), squad by squad."""
    gaps = []
    for (event, measure), by_squad in counted_sheets(result).items():
        for squad, sheets in by_squad.items():
            for criterion in sheets[0].marks:
                levels = [sheet.marks[criterion] for sheet in sheets]
                if far_apart(levels):
                    gaps.append(MarkGap(squad, event, measure, criterion, min(levels), max(levels)))
    return tuple(gaps)


def widest_first(gaps: Sequence[MarkGap]) -> list[MarkGap]:
    """The order in which they are read: where judges are farthest apart comes first."""
    return sorted(gaps, key=lambda gap: gap.lowest - gap.highest)


def _consistency(judge: int, by_squad: Mapping[int, Sequence[SheetScore]], fitted: Fit) -> float | None:
    own, rest = [], []
    for sheets in by_squad.values():
        others = [sheet.value - fitted.effects[sheet.judge_id] for sheet in sheets if sheet.judge_id != judge]
        mine = [sheet.value for sheet in sheets if sheet.judge_id == judge]
        if mine and others:
            own.append(float(mine[0]))
            rest.append(float(sum(others, Fraction(0)) / len(others)))
    return correlation(own, rest)


def _single_level(sheets: Sequence[SheetScore]) -> Fraction | None:
    if len(sheets[0].marks) < 2:
        return None
    return Fraction(sum(len(set(sheet.marks.values())) == 1 for sheet in sheets), len(sheets))


def _halo(sheets: Sequence[SheetScore]) -> float | None:
    columns = [[float(sheet.marks[key]) for sheet in sheets] for key in sheets[0].marks]
    found = [correlation(one, other) for one, other in combinations(columns, 2)]
    known = [value for value in found if value is not None]
    return sum(known) / len(known) if known else None


def correlation(xs: Sequence[float], ys: Sequence[float]) -> float | None:
    """Pearson's correlation; None below three pairs or where one side does not vary."""
    if len(xs) < FEWEST_PAIRS or len(set(xs)) == 1 or len(set(ys)) == 1:
        return None
    mean_x, mean_y = sum(xs) / len(xs), sum(ys) / len(ys)
    off_x, off_y = [x - mean_x for x in xs], [y - mean_y for y in ys]
    spread = sum(x * x for x in off_x) * sum(y * y for y in off_y)
    if spread == 0:
        return None
    together = sum(x * y for x, y in zip(off_x, off_y, strict=True))
    return max(-1.0, min(1.0, together / sqrt(spread)))


def standard_deviation(values: Sequence[float]) -> float | None:
    """The sample standard deviation (divisor n - 1); None below two values."""
    if len(values) < 2:
        return None
    mean = sum(values) / len(values)
    return sqrt(sum((value - mean) ** 2 for value in values) / (len(values) - 1))
