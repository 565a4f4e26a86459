"""A surprise wave by wave: for whom it may start, and who sits where it could be heard."""

from collections.abc import Collection, Mapping, Sequence
from datetime import date, datetime
from itertools import product

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.day_windows import run_windows
from storage.records.people import Squad
from storage.records.plan import Plan


def waiting(squads: Sequence[Squad], started: Collection[int]) -> list[Squad]:
    """The squads that can be picked: those for which it has not started."""
    return [squad for squad in squads if squad.id not in started]


def sections_waiting(plan: Plan, squads: Sequence[Squad]) -> list[tuple[int, str]]:
    """The sections that can be picked, with their places in the plan: those of squads that wait."""
    having = {squad.section for squad in squads}
    return [(place, name) for place, name in enumerate(plan.sections) if name in having]


def picked(choice: str, plan: Plan, squads: Sequence[Squad], started: Collection[int]) -> tuple[Squad, ...]:
    """The squads of a choice `section-PLACE` or `squad-ID` for which it has not started.

    The place is that of the section in the plan, from 0.

    Raises Refusal: `wave_nobody`.
    """
    kind, _, of = choice.partition("-")
    number = int(of) if of.isdecimal() and len(of) < 19 else -1
    left = waiting(squads, started)
    if kind == "section":
        found = tuple(squad for squad in left if plan.sections[number : number + 1] == (squad.section,))
    else:
        found = tuple(squad for squad in left if squad.id == number)
    if not found:
        raise Refusal(DayReason.WAVE_NOBODY)
    return found


def left_after(squads: Sequence[Squad], started: Collection[int], wave: Sequence[Squad] = ()) -> int:
    """For how many squads it has not started then; after the last wave it starts for everybody."""
    return len({squad.id for squad in squads} - set(started) - {squad.id for squad in wave})


def within_hearing(
    plan: Plan, dates: Sequence[date], wave: Sequence[Squad], squads: Sequence[Squad], started: Mapping[int, datetime]
) -> tuple[Squad, ...]:
    """Squads that do not know the surprise and have their lesson with one that does, or will after this wave.

    Sections share a room as far as anybody can tell when they are the same, or when their lessons overlap.
    """
    knowing = {squad.id for squad in wave} | set(started)
    sections = {squad.section for squad in squads if squad.id in knowing}
    return tuple(
        squad
        for squad in squads
        if squad.id not in knowing and any(_meet(plan, dates, squad.section, section) for section in sections)
    )


def _meet(plan: Plan, dates: Sequence[date], one: str, other: str) -> bool:
    if one == other:
        return True
    day = plan.event_day
    having = {lesson.section for lesson in day.lessons} if day else set()
    if not {one, other} <= having:
        return False
    windows = product(run_windows(plan, dates, one), run_windows(plan, dates, other))
    return any(begin < until and since < end for (begin, end), (since, until) in windows)
