"""Who takes part in the interviews of a timetable that is made, when it changes who judges whom."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from storage.records.day_plan import DayPlan
from storage.records.event_day import DaySlot
from storage.records.tryout import FROM_BRIEF_TO_CLOSE, State


@dataclass(frozen=True)
class Fitted:
    """What becomes of a timetable."""

    changed: tuple[DaySlot, ...]
    """Interviews with other judges than before, at the same time."""
    left: tuple[tuple[int, int], ...]
    """Judges who should meet a squad and cannot without another timetable, as (judge, squad)."""


def may_fit(of_plan: DayPlan | None, state: State) -> bool:
    """Whether judges join and leave interviews: there are interviews, and the day can still be changed."""
    return of_plan is not None and of_plan.interview_minutes > 0 and state in FROM_BRIEF_TO_CLOSE


def wanted_in(
    event: str, panel: Mapping[int, Collection[int]], away: Collection[tuple[int, str]]
) -> dict[int, Collection[int]]:
    """Who should meet whom in an event: the judges of each squad that takes part in it."""
    return {squad: judges for squad, judges in panel.items() if (squad, event) not in away}


def fit_judges(
    slots: Sequence[DaySlot], wanted: Mapping[str, Mapping[int, Collection[int]]], change: timedelta, now: datetime
) -> Fitted:
    """Let judges join the interviews of squads that they should meet, where they are nowhere else at that time.

    `wanted` names for each event that has interviews the judges of each squad; `change` is what a judge needs between
    two interviews. Who should not meet a squad any more leaves its interview. What is over stays as it was.
    """
    talks = [slot for slot in slots if slot.kind == "interview" and slot.event in wanted]
    open_talks = [slot for slot in talks if slot.ends_at > now]
    judges = {slot.id: set(slot.judges) for slot in talks}
    left: set[tuple[int, int]] = set()
    for slot in open_talks:
        judges[slot.id] &= set(wanted[slot.event].get(slot.squad_id, ()))
    for slot in open_talks:
        for judge in sorted(set(wanted[slot.event].get(slot.squad_id, ())) - judges[slot.id]):
            if any(judge in judges[other.id] and _meet(slot, other, change) for other in talks if other.id != slot.id):
                left.add((judge, slot.squad_id))
            else:
                judges[slot.id].add(judge)
    having = {(slot.event, slot.squad_id) for slot in talks}
    left |= {
        (judge, squad)
        for event, squads in wanted.items()
        for squad, panel in squads.items()
        if (event, squad) not in having
        for judge in panel
    }
    changed = [
        slot.model_copy(update={"judges": tuple(sorted(judges[slot.id]))})
        for slot in open_talks
        if judges[slot.id] != set(slot.judges)
    ]
    return Fitted(tuple(changed), tuple(sorted(left)))


def _meet(one: DaySlot, other: DaySlot, change: timedelta) -> bool:
    return one.begins_at < other.ends_at + change and other.begins_at < one.ends_at + change
