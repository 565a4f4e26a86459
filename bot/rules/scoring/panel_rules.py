"""How the sheets of a squad's judges become one value: mean, median, trimmed mean, or adjusted for severity."""

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from math import lcm
from operator import attrgetter
from statistics import median

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.plan.measure_checks import TRIMMED_FROM
from bot.rules.scoring.severity_model import Fit, Observation, fit
from bot.rules.scoring.standings_records import SheetScore

Weighted = tuple[Fraction, Fraction]
"""A sheet's value and its judge's weight."""


def panel_values(
    rule: str,
    sheets: Mapping[int, Sequence[SheetScore]],
    value_of: Callable[[SheetScore], Fraction] = attrgetter("value"),
    copies: Mapping[int, int] | None = None,
) -> tuple[dict[int, Fraction], Fit | None]:
    """Each squad's value over its counted sheets, and the fit behind it when the rule is `adjusted`.

    `copies` says by judge id how many times each of the judge's sheets lies there (0 where absent), as if so many
    judges had marked alike; without it each lies there once. Squads without a sheet of a weight above 0 have no value.
    """
    counted: dict[int, list[tuple[SheetScore, int]]] = {}
    for squad, handed_in in sheets.items():
        kept = [(sheet, 1 if copies is None else copies.get(sheet.judge_id, 0)) for sheet in handed_in]
        if kept := [(sheet, times) for sheet, times in kept if times and not sheet.shown_only]:
            counted[squad] = kept
    if not counted:
        return {}, None
    if rule != "adjusted":
        return {
            squad: panel_value(rule, [(value_of(sheet), sheet.weight) for sheet, times in kept for _ in range(times)])
            for squad, kept in counted.items()
        }, None
    # To least squares, judges who mark alike are one judge of their added weight.
    fitted = fit(
        [Observation(squad, sheet.judge_id, value_of(sheet)) for squad, kept in counted.items() for sheet, _ in kept],
        {
            sheet.judge_id: sheet.weight if times == 1 else sheet.weight * times
            for kept in counted.values()
            for sheet, times in kept
        },
    )
    return dict(fitted.adjusted), fitted


def panel_value(rule: str, sheets: Sequence[Weighted]) -> Fraction:
    """One value from the sheets of a squad's judges, by the panel rule `mean`, `median` or `trimmed`.

    Sheets of weight 0 are left out; the order of the judges never matters. (`adjusted` needs the sheets
    of all squads: see `bot.rules.scoring.severity_model`.)

    Raises Refusal: `panel_empty`, `judge_weight` (weight).
    """
    for _, weight in sheets:
        if weight.numerator < 0:
            raise Refusal(Reason.JUDGE_WEIGHT, weight=weight)
    counted = [sheet for sheet in sheets if sheet[1].numerator]
    if not counted:
        raise Refusal(Reason.PANEL_EMPTY)
    if rule == "median":
        return weighted_median(counted)
    if rule == "trimmed":
        return trimmed_mean(counted)
    return weighted_mean(counted)


def weighted_mean(sheets: Sequence[Weighted]) -> Fraction:
    """Sum of weight x value over the sum of the weights."""
    if _alike(sheets):
        # In whole numbers, because a sum of fractions is brought to lowest terms after each of them.
        unit = lcm(*(value.denominator for value, _ in sheets))
        return Fraction(sum(value.numerator * (unit // value.denominator) for value, _ in sheets), unit * len(sheets))
    total = sum((value * weight for value, weight in sheets), Fraction(0))
    return total / sum((weight for _, weight in sheets), Fraction(0))


def _alike(sheets: Sequence[Weighted]) -> bool:
    """Whether all judges weigh the same."""
    first = sheets[0][1]
    return all(weight is first or weight == first for _, weight in sheets)


def weighted_median(sheets: Sequence[Weighted]) -> Fraction:
    """The value at which half of the weight is reached; half-way to the next when it is reached exactly.

    With equal weights this is the ordinary median.
    """
    if _alike(sheets):
        return median(value for value, _ in sheets)
    ordered = sorted(sheets)
    half = sum((weight for _, weight in ordered), Fraction(0)) / 2
    reached = Fraction(0)
    for index, (value, weight) in enumerate(ordered):
        reached += weight
        if reached == half:
            return (value + ordered[index + 1][0]) / 2
        if reached > half:
            return value
    raise AssertionError("the whole weight is more than half of it")


def trimmed_mean(sheets: Sequence[Weighted]) -> Fraction:
    """The weighted mean without one highest and one lowest sheet, from five judges up; the whole mean below that.

    Of equal sheets at an end the one of the lighter judge goes, so that the order of the judges does not matter.
    """
    if len(sheets) < TRIMMED_FROM:
        return weighted_mean(sheets)
    without_lowest = sorted(sheets)[1:]
    return weighted_mean(sorted(without_lowest, key=lambda sheet: (-sheet[0], sheet[1]))[1:])


def rule_used(panel: str, sheets: int) -> str:
    """The rule by which so many sheets are counted: with too few to leave any out the plain mean."""
    return "mean" if panel == "trimmed" and sheets < TRIMMED_FROM else panel
