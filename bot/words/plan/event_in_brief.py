"""An event as students read it in the brief: the task, how it is measured, the attempts, and the safety lines."""

from collections.abc import Sequence
from fractions import Fraction

from bot.words.core.number_text import exact, exact_percent
from bot.words.core.plain_text import escape, with_bold
from bot.words.core.times import seconds_text
from bot.words.plan.how_points_are_made import measure_points, times
from bot.words.scorekeeping.attempt_value_text import lower_note
from storage.records.plan import Event, Plan
from storage.records.plan_measures import (
    AtTable,
    Check,
    Checklist,
    Count,
    Criterion,
    Item,
    Measure,
    Number,
    Rubric,
    Share,
    Time,
)

HAND_IN = "Hand-in: each of you adds a part in your squad's room before the deadline, and writes why."
_KEPT = {
    "best": "the best one counts",
    "sum": "they are added up",
    "mean-of-best-two": "the mean of the best two counts",
}


def event_text(event: Event, plan: Plan, secret: bool, hidden: bool = True) -> str:
    """What squads do in an event, how it is measured, and the safety lines; a surprise is told only where `secret`.

    `hidden` says beside it that students see none of it yet.
    """
    return "\n".join(event_parts(event, plan, secret, hidden))


def event_parts(event: Event, plan: Plan, secret: bool, hidden: bool = True) -> list[str]:
    """The same in parts that are not cut: the task, each measure, each criterion, how points are made, safety lines."""
    if event.surprise and not secret:
        return [f"**A surprise** ({_share(event, plan)} of the total)\nNo squad knows it before the coach starts it."]
    measured = [part for measure in event.measures for part in _measured(event, measure)]
    return [*_task(event, plan, hidden), *measured, *_safety(event)]


def event_groups(event: Event, plan: Plan, secret: bool, room: int) -> list[list[str]]:
    """The same parts in groups that stand together: one where a page of so many characters holds all of them.

    Of a longer event the task, what is measured at the table and safety are one group; what judges look at is one for
    each rubric, with a heading of its own.
    """
    whole = event_parts(event, plan, secret, hidden=False)
    if len("\n".join(whole)) <= room:
        return [whole]
    rubrics = [measure for measure in event.measures if isinstance(measure, Rubric)]
    others = [part for one in event.measures if not isinstance(one, Rubric) for part in _measured(event, one)]
    judged = []
    for rubric in rubrics:
        head, *rest = _measured(event, rubric)
        judged.append([f"**How judges mark {escape(event.name)}**\n{head}", *rest])
    return [[*_task(event, plan, hidden=False), *others, *_safety(event)], *judged]


def _share(event: Event, plan: Plan) -> str:
    return exact_percent(Fraction(event.weight) / Fraction(sum(one.weight for one in plan.events)))


def _task(event: Event, plan: Plan, hidden: bool) -> list[str]:
    note = "; a surprise: students see none of this yet" if event.surprise and hidden else ""
    head = f"**{escape(event.name)}** ({_share(event, plan)} of the total{note})"
    about = [f"{head}\n{with_bold(event.about)}" if event.about else head]
    return [*about, HAND_IN] if event.hand_in else about


def _measured(event: Event, measure: Measure) -> list[str]:
    *before, last = _measure(measure)
    points = measure_points(event, measure)
    return [*before, last, points] if isinstance(measure, Rubric) else [f"{last}\n{points}"]


def _safety(event: Event) -> list[str]:
    return ["Safety:\n" + "\n".join(f"- {escape(line)}" for line in event.cautions)] if event.cautions else []


def _measure(measure: Measure) -> list[str]:
    """What is measured; of a rubric one part for each criterion, the first with the heading."""
    if isinstance(measure, Rubric):
        head, *others = [_criterion(criterion) for criterion in measure.criteria]
        return [f"Judges look at {escape(measure.name)}:\n{head}", *others]
    return [_at_table(measure)]


def _criterion(criterion: Criterion) -> str:
    levels = [f"{number}. {escape(level)}" for number, level in enumerate(criterion.levels, start=1)]
    return "\n".join((f"**{escape(criterion.name)}**{times(criterion)}", *levels))


def _at_table(measure: AtTable) -> str:
    match measure:
        case Count():
            points = _points(measure.items)
            return f"Counted{lower_note(measure)}: **{escape(measure.name)}** ({points}). {_attempts(measure)}"
        case Number():
            unit = escape(measure.unit)
            return f"Measured in {unit}{lower_note(measure)}: **{escape(measure.name)}**. {_attempts(measure)}"
        case Checklist():
            return f"Checked, yes or no: **{escape(measure.name)}** ({_points(measure.lines)}). {_attempts(measure)}"
        case Time():
            return f"Timed: **{escape(measure.name)}** (limit {seconds_text(measure.limit)}). {_attempts(measure)}"
        case Share():
            return f"Also counts: **{escape(measure.name)}**."


def _points(entries: Sequence[Item | Check]) -> str:
    return "points each: " + ", ".join(f"{escape(entry.name)} {exact(entry.points)}" for entry in entries)


def _attempts(measure: AtTable) -> str:
    if isinstance(measure, Share) or measure.attempts == 1:
        return "There is one attempt."
    return f"There are {measure.attempts} attempts; {_KEPT[measure.keep]}."
