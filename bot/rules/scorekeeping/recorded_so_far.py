"""What is recorded at the table, and what is shown of it: nothing of a surprise before it has started for anybody."""

from collections.abc import Collection, Iterable

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from storage.records.people import Squad
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Measure, Rubric


def measures_of(plan: Plan) -> list[tuple[Event, Measure]]:
    """What is recorded at the table: everything but score sheets."""
    return [(event, measure) for event in plan.events for measure in event.measures if not isinstance(measure, Rubric)]


def events_shown(plan: Plan, started: Collection[str]) -> list[Event]:
    """The events without what must stay secret; a surprise is among them once it has `started` for any squad."""
    return [event for event in plan.events if not event.surprise or event.key in started]


def measures_shown(plan: Plan, started: Collection[str]) -> list[tuple[Event, Measure]]:
    """The same without what must stay secret: scorekeepers may be students. Refusal `table_surprise` if that is all."""
    shown = {event.key for event in events_shown(plan, started)}
    found = [(event, measure) for event, measure in measures_of(plan) if event.key in shown]
    if not found:
        raise Refusal(TableReason.TABLE_SURPRISE)
    return found


def squads_at(event: Event, squads: Iterable[Squad], for_all: Collection[str], wave: Collection[int]) -> list[Squad]:
    """The squads that the table sees in an event: all, and of a surprise that has not started for all its `wave`."""
    sealed = event.surprise and event.key not in for_all
    return [squad for squad in squads if not sealed or squad.id in wave]
