"""What decides between squads with equal totals: the plan's tie-breaks in their order, then run-offs.

A tie-break is `event` (its points), `event.measure` (its value; not finished is last)
or `event.measure.criterion` (that criterion's level over the panel, by the rubric's panel rule). A run-off is an extra
attempt marked so: the first ones of the tied squads are compared, then the second ones of those still tied, and so on.
It never changes a total.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from functools import partial

from bot.rules.core.measure_direction import lower_is_better
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.scoring.measures import attempt_value
from bot.rules.scoring.ranking import Merit, Merits
from bot.rules.scoring.standings_records import Row, Tie
from bot.rules.scoring.tally import Tally, criterion_values
from storage.records.plan import Plan
from storage.records.plan_measures import Checklist, Count, Measure, Number, Rubric, Time
from storage.records.scores import ScoreBook

LAST = Merit(order=(0, Fraction(0)), value=None)
"""Absent, or did not finish: behind everybody who has a value."""


def breakers(book: ScoreBook, tallies: Sequence[Tally], rows: Mapping[int, Row]) -> list[tuple[str, Merits]]:
    """All that can break a tie, in order; `rows` are the squads to be ranked.

    Raises Refusal: `tie_break` (key) for one that names nothing in the plan.
    """
    by_key = {tally.key: tally for tally in tallies}
    found: list[tuple[str, Merits]] = []
    for key in book.plan.tie_breaks:
        check_tie_break(book.plan, key)
        event, *rest = key.split(".")
        if not rest:
            found.append((key, partial(_by_event, event, rows)))
        else:
            found.append((key, partial(_by_measure, by_key[f"{event}.{rest[0]}"], rest[1:], rows)))
    return found + _run_offs(book, tallies)


def check_tie_break(plan: Plan, key: str) -> None:
    """Raise Refusal `tie_break` (key) unless the key names an event, a measure or a criterion of the plan."""
    if key not in tie_break_keys(plan):
        raise Refusal(Reason.TIE_BREAK, key=key)


def tie_break_keys(plan: Plan) -> tuple[str, ...]:
    """All keys that may stand in the plan's tie-break order."""
    keys = []
    for event in plan.events:
        keys.append(event.key)
        for measure in event.measures:
            keys.append(f"{event.key}.{measure.key}")
            if isinstance(measure, Rubric):
                keys.extend(f"{event.key}.{measure.key}.{criterion.key}" for criterion in measure.criteria)
    return tuple(keys)


def _by_event(event: str, rows: Mapping[int, Row]) -> dict[int, Merit]:
    points = {squad: score.points for squad, row in rows.items() for score in row.events if score.key == event}
    return {squad: _merit(value) for squad, value in points.items() if value is not None}


def _by_measure(tally: Tally, criterion: Sequence[str], rows: Mapping[int, Row]) -> dict[int, Merit]:
    values: Mapping[int, Fraction | None] = tally.values
    if criterion and isinstance(tally.measure, Rubric):
        values = criterion_values(tally, tally.measure, criterion[0])
    lower = lower_is_better(tally.measure)
    absent = {
        squad
        for squad, row in rows.items()
        for score in row.events
        if score.key == tally.event.key and score.state == "absent"
    }
    return dict.fromkeys(absent, LAST) | {squad: _merit(value, lower) for squad, value in values.items()}


def can_be_run_off(measure: Measure) -> bool:
    """Whether one more attempt at it can part squads that are equal: what judges mark, and who took part, stands."""
    return isinstance(measure, Count | Number | Time | Checklist)


def has_run_offs(plan: Plan) -> bool:
    """Whether anything in a plan can be run off."""
    return any(can_be_run_off(measure) for event in plan.events for measure in event.measures)


def _run_offs(book: ScoreBook, tallies: Sequence[Tally]) -> list[tuple[str, Merits]]:
    found: list[tuple[str, Merits]] = []
    extra = [attempt for attempt in book.attempts if attempt.run_off and attempt.undone_at is None]
    extra.sort(key=lambda attempt: (attempt.number, attempt.id))
    for tally in tallies:
        measure = tally.measure
        if isinstance(measure, Rubric):
            continue
        made: dict[int, list[Merit]] = defaultdict(list)
        for attempt in extra:
            if (attempt.event, attempt.measure) == (tally.event.key, measure.key):
                made[attempt.squad_id].append(_merit(attempt_value(measure, attempt), lower_is_better(measure)))
        for turn in range(max(map(len, made.values()), default=0)):
            merits = {squad: each[turn] for squad, each in made.items() if len(each) > turn}
            found.append((f"run-off {turn + 1} {tally.key}", partial(dict, merits)))
    return found


def _merit(value: Fraction | None, lower: bool = False) -> Merit:
    return LAST if value is None else Merit(order=(1, -value if lower else value), value=value)


def parting(tie: Tie) -> list[str]:
    """What parted some of the squads, in the order in which it was tried; what left all as they were is not named."""
    groups = (tie.squads,), *(step.groups for step in tie.steps)
    return [step.by for before, step in zip(groups, tie.steps, strict=False) if step.groups != before]


def parted_by(ties: Iterable[Tie], one: int, other: int) -> str | None:
    """What parted two squads of the same total; None where nothing did."""
    for tie in ties:
        if one in tie.squads and other in tie.squads:
            for step in tie.steps:
                if not any({one, other} <= set(group) for group in step.groups):
                    return step.by
    return None
