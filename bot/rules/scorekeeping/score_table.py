"""The table: what is measured there, no surprise before it starts; what is entered, corrected; which squad is next."""

from collections.abc import Collection, Iterable, Sequence

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


def in_order(squads: Iterable[Squad]) -> list[Squad]:
    """The squads of a measure in the order in which they are picked, and led on to: by number."""
    return sorted(squads, key=lambda squad: squad.number)


def may_enter(made: int, allowed: int, absent: bool, tied: bool, settled: bool) -> bool:
    """Whether an attempt can be entered: a run-off of a tie, or one that is left, after the close only the first."""
    return not absent and (tied or (made < allowed and not is_corrected(made, absent, settled)))


def is_corrected(made: int, absent: bool, settled: bool) -> bool:
    """Whether what is on record of a squad is no longer undone by one person, but corrected by two."""
    return settled and (made > 0 or absent)


def opens_at_once(measures: int, running: int) -> bool:
    """Whether the table opens at the squads: there is nothing to pick but one measure."""
    return measures == 1 and not running


def leads_on(after: int | None, squad: int) -> bool:
    """Whether a squad's page leads on to the next one: where there is another one."""
    return after is not None and after != squad


def following(squads: Sequence[int], with_attempts_left: Collection[int], after: int) -> int | None:
    """The next squad, by number and round again, that still has attempts left; None where no other one has."""
    place = squads.index(after)
    return next((one for one in (*squads[place + 1 :], *squads[:place]) if one in with_attempts_left), None)
