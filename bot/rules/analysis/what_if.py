"""What if? How typed weights and choices are read, and the book with them: other weights, scales, or a judge less.

Each change returns a new book for `standings`; the one given, and the frozen plan in it, stay as they are.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from math import lcm
from typing import Literal

from bot.rules.core.parse_typed import read_points
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.scoring.scales import SCALES, Scale
from bot.rules.scoring.tie_breaks import tie_break_keys
from storage.records.people import Judge
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Measure, Rubric
from storage.records.scores import ScoreBook

Panel = Literal["mean", "median", "trimmed", "adjusted"]
PANELS: tuple[Panel, ...] = ("mean", "median", "trimmed", "adjusted")
NONE = "-"
"""Leaves a thing as the plan has it."""
LONGEST_WEIGHTS = 1500
"""Characters of all lines with weights."""
MOST_GIVEN_BACK = 80
"""Characters of a line that could not be read, which are shown again."""


@dataclass(frozen=True)
class Wish:
    """What the coach wants to try; `NONE` leaves a thing as it is."""

    weights: Mapping[str, Decimal]
    scale: str = NONE
    panel: str = NONE
    judge: str = NONE


def at_first(plan: Plan) -> Wish:
    """What stands in the form at first: the weights of the plan, its own scales and panel rules, and all judges."""
    return Wish({event.key: event.weight for event in plan.events})


def read_wish(book: ScoreBook, weights: str, chosen: Mapping[str, str], judge_number: str = "") -> Wish:
    """The wish from the lines of weights and what was chosen as scale, panel rule and judge, or the judge's number.

    Raises Refusal: `no_judge_number` (number), `out_of_date` for what is not on offer, or what `read_weights` raises.
    """
    wish = Wish(read_weights(book.plan, weights), **chosen)
    if number := judge_number.strip():
        found = [judge for judge in counting_judges(book) if str(judge.number) == number]
        if not found:
            raise Refusal(Reason.NO_JUDGE_NUMBER, number=number)
        wish = replace(wish, judge=str(found[0].id))
    judges = {str(judge.id) for judge in book.judges}
    if wish.scale not in {NONE, *SCALES} or wish.panel not in {NONE, *PANELS} or wish.judge not in {NONE, *judges}:
        raise Refusal(Reason.OUT_OF_DATE)
    return wish


def counting_judges(book: ScoreBook) -> list[Judge]:
    """The judges who can be left out: those whose marks count."""
    return [judge for judge in book.judges if judge.weight > 0]


def read_weights(plan: Plan, text: str) -> dict[str, Decimal]:
    """The weights from lines such as `Sock run: 40`; events without a line keep theirs.

    Raises Refusal: `weight_line` (line), `no_event` (key), or what `read_points` raises.
    """
    weights = {event.key: event.weight for event in plan.events}
    names = {event.name.casefold(): event.key for event in plan.events} | {
        event.key: event.key for event in plan.events
    }
    for line in filter(None, map(str.strip, text.splitlines())):
        name, colon, weight = line.rpartition(":")
        if not colon:
            raise Refusal(Reason.WEIGHT_LINE, line=line[:MOST_GIVEN_BACK])
        found = names.get(name.strip().casefold())
        if found is None:
            raise Refusal(Reason.NO_EVENT, key=name.strip()[:MOST_GIVEN_BACK])
        weights[found] = read_points(weight, f"the weight of {name.strip()[:MOST_GIVEN_BACK]}")
    return weights


def as_wished(book: ScoreBook, wish: Wish) -> ScoreBook:
    """The book with all that is wished. Raises Refusal: what `with_weights` raises."""
    other = with_weights(book, wish.weights)
    for scale in SCALES:
        if scale == wish.scale:
            other = with_scale(other, scale)
    for rule in PANELS:
        if rule == wish.panel:
            other = with_panel(other, rule)
    return other if wish.judge == NONE else without_judge(other, int(wish.judge))


def with_weights(book: ScoreBook, weights: Mapping[str, Fraction | Decimal | int]) -> ScoreBook:
    """The book with other weights for some events; only their ratios matter, and an event may count nothing.

    Raises Refusal: `no_event` (key), `weight_negative` (key, weight), `weights_zero`.
    """
    known = {event.key: Fraction(event.weight) for event in book.plan.events}
    for key, weight in weights.items():
        if key not in known:
            raise Refusal(Reason.NO_EVENT, key=key)
        if weight < 0:
            raise Refusal(Reason.WEIGHT_NEGATIVE, key=key, weight=weight)
    changed = known | {key: Fraction(weight) for key, weight in weights.items()}
    if not any(changed.values()):
        raise Refusal(Reason.WEIGHTS_ZERO)
    # Whole numbers in the same ratios, so that the plan's decimals hold any fraction exactly.
    scale = lcm(*(weight.denominator for weight in changed.values()))
    events = tuple(
        event.model_copy(update={"weight": Decimal((changed[event.key] * scale).numerator)})
        for event in book.plan.events
    )
    return _with_events(book, events)


def with_scale(book: ScoreBook, scale: Scale, about: str | None = None) -> ScoreBook:
    """The book with another scale for every measure, or only for the one named `event.measure`.

    A measure whose plan gives no ends for the scale `between` runs from the worst to the best squad.

    Raises Refusal: `no_measure` (key).
    """
    keys = [f"{event.key}.{measure.key}" for event in book.plan.events for measure in event.measures]
    if about is not None and about not in keys:
        raise Refusal(TableReason.NO_MEASURE, key=about)
    events = tuple(
        _with_measures(
            event,
            *(
                measure.model_copy(update={"scale": scale})
                if about in (None, f"{event.key}.{measure.key}")
                else measure
                for measure in event.measures
            ),
        )
        for event in book.plan.events
    )
    return _with_events(book, events)


def with_panel(book: ScoreBook, rule: Panel) -> ScoreBook:
    """The book with another panel rule for every rubric: how the sheets of a squad's judges become one value."""
    events = tuple(
        _with_measures(
            event,
            *(
                measure.model_copy(update={"panel": rule}) if isinstance(measure, Rubric) else measure
                for measure in event.measures
            ),
        )
        for event in book.plan.events
    )
    return _with_events(book, events)


def without_judge(book: ScoreBook, judge_id: int) -> ScoreBook:
    """The book as if this judge had never been on a panel."""
    judges = tuple(
        judge.model_copy(update={"removed": True}) if judge.id == judge_id else judge for judge in book.judges
    )
    return book.model_copy(update={"judges": judges})


def without_criterion(book: ScoreBook, key: str) -> ScoreBook:
    """The book without one criterion `event.measure.criterion`, which then breaks no tie either.

    Raises Refusal: `no_criterion` (key), also for the only one of its rubric.
    """
    where, _, criterion = key.rpartition(".")
    events = tuple(
        _with_measures(
            event,
            *(
                _without(measure, criterion) if where == f"{event.key}.{measure.key}" else measure
                for measure in event.measures
            ),
        )
        for event in book.plan.events
    )
    if events == book.plan.events:
        raise Refusal(Reason.NO_CRITERION, key=key)
    return _with_events(book, events)


def without_squad(book: ScoreBook, squad_id: int) -> ScoreBook:
    """The book as if this squad had withdrawn."""
    squads = tuple(
        squad.model_copy(update={"withdrawn": True}) if squad.id == squad_id else squad for squad in book.squads
    )
    return book.model_copy(update={"squads": squads})


def criterion_keys(plan: Plan) -> tuple[str, ...]:
    """All criteria that can be left out: those of rubrics with more than one."""
    return tuple(
        f"{event.key}.{measure.key}.{criterion.key}"
        for event in plan.events
        for measure in event.measures
        if isinstance(measure, Rubric) and len(measure.criteria) > 1
        for criterion in measure.criteria
    )


def _without(measure: Measure, criterion: str) -> Measure:
    if not isinstance(measure, Rubric):
        return measure
    rest = tuple(row for row in measure.criteria if row.key != criterion)
    return measure.model_copy(update={"criteria": rest}) if rest else measure


def _with_measures(event: Event, *measures: Measure) -> Event:
    return event.model_copy(update={"measures": measures})


def _with_events(book: ScoreBook, events: tuple[Event, ...]) -> ScoreBook:
    plan = book.plan.model_copy(update={"events": events})
    gone = set(tie_break_keys(book.plan)) - set(tie_break_keys(plan))
    plan = plan.model_copy(update={"tie_breaks": tuple(key for key in plan.tie_breaks if key not in gone)})
    return book.model_copy(update={"plan": plan})
