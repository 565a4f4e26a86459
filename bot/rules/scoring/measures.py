"""From what was recorded to one exact value of a squad's attempts, and of one judge's sheet.

Values are `Fraction`s in the measure's own unit: points for a count or checklist, the plan's unit for a number, seconds
for a time, sheet points for a rubric, 0 to 1 for a share. None stands for a timed squad that did not finish.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from storage.records.plan_measures import AtTable, Checklist, Count, Measure, Number, Rubric, Share, Time
from storage.records.scores import Attempt

MOST_ITEMS = 10_000
"""More of one item than this in one attempt is in no record; what is typed is bounded sooner (`attempt_entry`)."""


def attempt_value(measure: AtTable, attempt: Attempt) -> Fraction | None:
    """The exact value of one attempt; None for a timed one that did not finish within the limit.

    Count: items x points - deductions (+ deductions where lower is better), at least 0. Number: as measured.
    Checklist: the points of the lines with a yes, at least 0. Time: seconds + faults x fault seconds. Share: members
    who contributed over members.

    Raises Refusal: `attempt_count` (item, count), `attempt_item` (item), `attempt_deductions`, `attempt_amount`
    (amount, lowest, highest, unit), `attempt_decimals` (amount, decimals), `attempt_seconds`, `attempt_faults`,
    `attempt_members` (contributing, members).
    """
    match measure:
        case Count():
            return _count(measure, attempt)
        case Number():
            return _number(measure, attempt)
        case Checklist():
            return _checklist(measure, attempt)
        case Time():
            return _time(measure, attempt)
        case Share():
            return _share(attempt)


def _count(measure: Count, attempt: Attempt) -> Fraction:
    if attempt.deductions < 0:
        raise Refusal(TableReason.ATTEMPT_DEDUCTIONS, deductions=attempt.deductions)
    off = -attempt.deductions if measure.better == "lower" else attempt.deductions
    earned = _earned({item.key: item.points for item in measure.items}, attempt, MOST_ITEMS)
    return max(Fraction(earned) - Fraction(off), Fraction(0))


def _checklist(measure: Checklist, attempt: Attempt) -> Fraction:
    return max(Fraction(_earned({line.key: line.points for line in measure.lines}, attempt, 1)), Fraction(0))


def _earned(points: Mapping[str, Decimal], attempt: Attempt, most: int) -> Decimal:
    for key, count in attempt.items.items():
        if key not in points:
            raise Refusal(TableReason.ATTEMPT_ITEM, item=key)
        if not 0 <= count <= most:
            raise Refusal(TableReason.ATTEMPT_COUNT, item=key, count=count, most=most)
    return sum((points[key] * count for key, count in attempt.items.items()), Decimal(0))


def _number(measure: Number, attempt: Attempt) -> Fraction:
    amount = attempt.amount
    if amount is None or not measure.lowest <= amount <= measure.highest:
        ends = {"lowest": measure.lowest, "highest": measure.highest}
        raise Refusal(TableReason.ATTEMPT_AMOUNT, amount=amount, unit=measure.unit, **ends)
    if amount != round(amount, measure.decimals):
        raise Refusal(TableReason.ATTEMPT_DECIMALS, amount=amount, decimals=measure.decimals)
    return Fraction(amount)


def _time(measure: Time, attempt: Attempt) -> Fraction | None:
    if not 0 <= attempt.faults <= MOST_ITEMS:
        raise Refusal(TableReason.ATTEMPT_FAULTS, faults=attempt.faults, most=MOST_ITEMS)
    if attempt.seconds is None:
        return None
    if attempt.seconds <= 0:
        raise Refusal(TableReason.ATTEMPT_SECONDS, seconds=attempt.seconds)
    if attempt.seconds > measure.limit:
        return None
    return Fraction(attempt.seconds) + attempt.faults * Fraction(measure.fault_seconds)


def _share(attempt: Attempt) -> Fraction:
    contributing, members = attempt.contributing, attempt.members
    if contributing is None or members is None or not 0 <= contributing <= members or members == 0:
        raise Refusal(TableReason.ATTEMPT_MEMBERS, contributing=contributing, members=members)
    return Fraction(contributing, members)


def attempts_allowed(measure: Measure) -> int:
    """How many official attempts a squad has; 0 for a rubric, 1 for a share (the last one recorded stands)."""
    if isinstance(measure, Rubric):
        return 0
    return 1 if isinstance(measure, Share) else measure.attempts


def attempts_needed(measure: Measure) -> int:
    """How many attempts a squad must have before it has a value: one where the best counts."""
    if isinstance(measure, Rubric):
        return 0
    if isinstance(measure, Share) or measure.keep == "best":
        return 1
    return measure.attempts if measure.keep == "sum" else min(2, measure.attempts)


def squad_value(measure: AtTable, values: Sequence[Fraction | None]) -> Fraction | None:
    """One value from a squad's attempts in order, at least `attempts_needed` of them: best, sum, or mean of best two.

    Where lower is better the best is the lowest. A time that must be added or averaged and did not finish leaves no
    time: None.

    Raises Refusal: `no_attempt`.
    """
    if not values:
        raise Refusal(Reason.NO_ATTEMPT, measure=measure.key)
    if isinstance(measure, Share):
        return values[-1]
    finished = sorted((value for value in values if value is not None), reverse=not lower_is_better(measure))
    if measure.keep == "best":
        return finished[0] if finished else None
    if measure.keep == "sum":
        return sum(finished, Fraction(0)) if len(finished) == len(values) else None
    needed = attempts_needed(measure)
    return sum(finished[:needed], Fraction(0)) / needed if len(finished) >= needed else None


def sheet_value(rubric: Rubric, marks: Mapping[str, int]) -> Fraction:
    """Sum of criterion weight x level over a whole sheet.

    Raises Refusal: `mark_missing` (criterion), `mark_level` (criterion, level, highest).
    """
    for criterion in rubric.criteria:
        level = marks.get(criterion.key)
        if level is None:
            raise Refusal(Reason.MARK_MISSING, criterion=criterion.key)
        if not 1 <= level <= len(criterion.levels):
            raise Refusal(Reason.MARK_LEVEL, criterion=criterion.key, level=level, highest=len(criterion.levels))
    # Decimals of a plan have at most 12 digits, so these products and sums are exact, and quicker than fractions.
    return Fraction(sum((criterion.weight * marks[criterion.key] for criterion in rubric.criteria), Decimal(0)))


def highest_sheet(rubric: Rubric) -> Fraction:
    """The value of a sheet with the top level everywhere."""
    return Fraction(sum((criterion.weight * len(criterion.levels) for criterion in rubric.criteria), Decimal(0)))
