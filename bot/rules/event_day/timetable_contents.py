"""What goes into a timetable: the runs and interviews that are still to come, when each squad has time for them, and
whether that is still what a timetable was worked out from.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.day_windows import Window, interview_windows, run_windows, still_to_come
from bot.rules.event_day.running_day import RunningDay, run_measures
from bot.rules.event_day.timetable import Activity, Day, Kind
from bot.rules.scoring.measures import attempts_allowed
from storage.records.event_day import DaySlot
from storage.records.people import Squad
from storage.records.plan import Event, Plan


def kept_slots(day: RunningDay) -> tuple[DaySlot, ...]:
    """What is over already and stays in a timetable that is made again."""
    return tuple(slot for slot in day.slots if day.is_over(slot))


def runs_of(event: Event) -> int:
    """How many runs a squad has in an event: the most attempts of its measures at the table; none of a surprise."""
    return 0 if event.surprise else max((attempts_allowed(one) for one in run_measures(event)), default=0)


def activities(
    day: RunningDay, order: Iterable[int], event: Event, judges: Mapping[int, tuple[int, ...]]
) -> list[Activity]:
    """What squads, in the `order` drawn, still have to do in an event in which they take part.

    Runs for the attempts that are not on record, and one interview with each squad's `judges`.
    """
    done = {(slot.kind, slot.squad_id, slot.event, slot.number) for slot in kept_slots(day)}
    found: list[Activity] = []
    for squad in order:
        if (squad, event.key) in day.away:
            continue
        made = day.made.get((squad, event.key), 0)
        found += [
            Activity("run", squad, event.key, number)
            for number in range(made + 1, runs_of(event) + 1)
            if ("run", squad, event.key, number) not in done
        ]
        if judges.get(squad) and ("interview", squad, event.key, 1) not in done:
            found.append(Activity("interview", squad, event.key, 1, judges[squad]))
    return found


def windows(
    plan: Plan, dates: Sequence[date], squads: Iterable[Squad], now: datetime
) -> dict[tuple[Kind, int], tuple[Window, ...]]:
    """When each squad may run and be interviewed, from now on."""
    found: dict[tuple[Kind, int], tuple[Window, ...]] = {}
    for squad in squads:
        found["run", squad.id] = still_to_come(run_windows(plan, dates, squad.section), now)
        found["interview", squad.id] = still_to_come(interview_windows(plan, dates, squad.section), now)
    return found


def check_unchanged(before: Day, kept_before: Sequence[DaySlot], now: Day, kept: Sequence[DaySlot]) -> None:
    """Nothing has changed since a timetable was worked out. Raises Refusal: `day_changed`."""
    if (now.squads, now.activities, kept) != (before.squads, before.activities, kept_before):
        raise Refusal(DayReason.DAY_CHANGED)
