"""How far the judges of each rubric agree, from the sheets that count.

Alpha (ordinal for each criterion, interval for whole sheets) works on any panel; the intraclass correlation and
Kendall's W need every judge to have seen every squad. With the few judges and squads of a try-out all of them are
uncertain: show an interval, or the plain word that it is too few to tell.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from bot.rules.analysis.confidence_intervals import UNDEFINED, Coefficient
from bot.rules.analysis.intraclass_correlation import Icc, icc
from bot.rules.analysis.intraclass_correlation import judges_needed as judges_for
from bot.rules.analysis.kendall_w import Chance, Concordance, chance, kendall_w
from bot.rules.analysis.krippendorff_alpha import alphas_with_intervals, tabulate
from bot.rules.scoring.severity_model import Observation, fit
from bot.rules.scoring.standings_records import SheetScore, Standings

FEW_JUDGES = 3
FEW_SQUADS = 6
CLOSE, FAIR, SOME = 0.8, 0.667, 0.4
"""Alpha from which judges agree closely, fairly well, partly."""
WIDE = 0.5
"""An interval wider than this says hardly anything."""
RELIABLE = 0.8
"""The reliability that a panel's mean should have, by common practice."""
MANY_JUDGES = 25
"""No panel is larger; more than this are not asked for."""
RESAMPLES = 1_000
HARDLY = 0.05
"""Sheet points by which judges differ on one squad of which nothing is said: they would be shown as 0.0."""
Closeness = Literal["unknown", "few", "chance", "close", "fair", "some", "little"]


@dataclass(frozen=True, slots=True)
class Agreement:
    """How far the judges of one rubric agree."""

    event: str
    measure: str
    judges: int
    squads: int
    """Squads with at least two counted sheets."""
    sheets: Coefficient
    """Krippendorff's alpha of the sheets' values, interval level."""
    criteria: Mapping[str, Coefficient]
    """Krippendorff's alpha of each criterion's levels, ordinal."""
    icc: Icc | None
    """None unless every judge saw every squad, or when it cannot be computed."""
    concordance: Concordance | None
    """As for `icc`."""
    chance: Chance | None
    """How likely as much concordance is by lot; as for `icc`."""
    complete: bool
    """Whether every judge saw every squad."""
    spread: float | None
    """By how many sheet points judges differ on one squad, severity aside (residual standard deviation)."""

    @property
    def few(self) -> bool:
        """Too few judges or squads to tell: below 3 or below 6 no coefficient deserves a verdict."""
        return self.judges < FEW_JUDGES or self.squads < FEW_SQUADS


def agreements(result: Standings, seed: int = 1, resamples: int = RESAMPLES) -> tuple[Agreement, ...]:
    """The agreement on each rubric, in the plan's order; `resamples` = 0 leaves out the bootstrap intervals."""
    return tuple(
        _agreement(event, measure, sheets, seed, resamples)
        for (event, measure), sheets in counted_sheets(result).items()
    )


def counted_sheets(result: Standings) -> dict[tuple[str, str], dict[int, tuple[SheetScore, ...]]]:
    """The sheets that count, by event and measure and then by squad; squads without any are left out."""
    found: dict[tuple[str, str], dict[int, tuple[SheetScore, ...]]] = {}
    for row in sorted((*result.rows, *result.unranked), key=lambda row: row.number):
        for event in row.events:
            for measure in event.measures:
                if measure.kind == "rubric":
                    sheets = tuple(sheet for sheet in measure.sheets if not sheet.shown_only)
                    by_squad = found.setdefault((event.key, measure.key), {})
                    if sheets:
                        by_squad[row.squad_id] = sheets
    return found


def observations(sheets: Mapping[int, tuple[SheetScore, ...]]) -> list[Observation]:
    """The values of the sheets, as the panel's fit takes them."""
    return [Observation(squad, sheet.judge_id, sheet.value) for squad, each in sheets.items() for sheet in each]


def _agreement(
    event: str, measure: str, sheets: Mapping[int, tuple[SheetScore, ...]], seed: int, resamples: int
) -> Agreement:
    rows = [(squad, sheet) for squad, each in sheets.items() for sheet in each]
    panels = {tuple(sheet.judge_id for sheet in each) for each in sheets.values()}
    judges = {sheet.judge_id for _, sheet in rows}
    complete = len(panels) == 1
    whole, criteria = UNDEFINED, {}
    if rows:
        keys = list(rows[0][1].marks)
        squads = [squad for squad, _ in rows]
        values = tabulate(squads, [(float(sheet.value),) for _, sheet in rows])
        marks = tabulate(squads, [[sheet.marks[key] for key in keys] for _, sheet in rows])
        [whole] = alphas_with_intervals(values, "interval", seed, resamples)
        criteria = dict(zip(keys, alphas_with_intervals(marks, "ordinal", seed, resamples), strict=True))
    table = [[sheet.value for sheet in each] for each in sheets.values()] if complete else []
    by_judge = list(zip(*table, strict=True))
    return Agreement(
        event=event,
        measure=measure,
        judges=len(judges),
        squads=sum(len(each) > 1 for each in sheets.values()),
        sheets=whole,
        criteria=criteria,
        icc=icc(table),
        concordance=kendall_w(by_judge),
        chance=chance(by_judge, seed),
        complete=complete,
        spread=fit(observations(sheets)).spread if rows else None,
    )


def closeness(one: Agreement) -> Closeness:
    """How closely the judges of a rubric agree; never a verdict on few judges or squads, or where it may be chance."""
    value, interval = one.sheets.value, one.sheets.interval
    if value is None:
        return "unknown"
    if one.few:
        return "few"
    if interval is not None and interval[0] <= 0:
        return "chance"
    if value >= CLOSE:
        return "close"
    if value >= FAIR:
        return "fair"
    return "some" if value >= SOME else "little"


def is_uncertain(one: Agreement) -> bool:
    """Whether a word about a rubric is one that another panel or other squads could well overturn."""
    interval = one.sheets.interval
    told = one.sheets.value is not None and closeness(one) != "few"
    return told and (interval is None or interval[1] - interval[0] > WIDE)


def judges_needed(one: Agreement) -> int | None:
    """How many judges' mean would be `RELIABLE`; None on few judges or squads, or where that cannot be told."""
    single = None if one.icc is None else one.icc.icc2.value
    return None if single is None or one.few else judges_for(single, RELIABLE)


def least_agreed(one: Agreement) -> str | None:
    """The criterion on which judges differ most; None on few judges or squads, or with nothing to compare it with."""
    known = {key: found.value for key, found in one.criteria.items() if found.value is not None}
    return None if len(known) < 2 or one.few else min(known, key=lambda each: known[each])
