"""What of a plan is judged: its rubrics, each with its event."""

from collections.abc import Iterator

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Rubric


def rubrics(plan: Plan) -> Iterator[tuple[Event, Rubric]]:
    """Everything that is judged, in the plan's order."""
    for event in plan.events:
        for measure in event.measures:
            if isinstance(measure, Rubric):
                yield event, measure


def is_judged(plan: Plan) -> bool:
    """Whether judges mark anything."""
    return any(True for _ in rubrics(plan))


def judged_events(plan: Plan) -> list[Event]:
    """The events that have something to judge, in the plan's order."""
    return list(dict.fromkeys(event for event, _ in rubrics(plan)))


def rubric_of(plan: Plan, event_key: str, measure_key: str) -> tuple[Event, Rubric]:
    """The event and the rubric behind their keys.

    Raises Refusal: `rubric_gone`, when the plan was changed since.
    """
    for event, rubric in rubrics(plan):
        if (event.key, rubric.key) == (event_key, measure_key):
            return event, rubric
    raise Refusal(Reason.RUBRIC_GONE)


def picked_rubric(plan: Plan, value: str) -> tuple[Event, Rubric]:
    """The event and the rubric of an entry `event/measure` in a list of rubrics; Refusal `rubric_gone`."""
    event_key, _, measure_key = value.partition("/")
    return rubric_of(plan, event_key, measure_key)
