"""Why there is no timetable: which limit binds, by counting where that tells, else by taking one limit away."""

from collections import defaultdict
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Literal

from bot.rules.event_day.day_windows import Window
from bot.rules.event_day.timetable import Day, length, make_timetable

TRY = 2.0
"""Seconds for each limit that is taken away on trial."""


@dataclass(frozen=True)
class Binding:
    """One limit that leaves no timetable; `squads` are concerned, and `needed` minutes stand against `there`."""

    what: Literal["no_time", "squad", "tables", "judge", "all_tables", "all_judges", "together"]
    squads: tuple[int, ...] = ()
    needed: int = 0
    there: int = 0
    judge: int | None = None


def bindings(day: Day) -> tuple[Binding, ...]:
    """What stands in the way of a timetable: never empty, asked only where none was found."""
    counted = [*_no_time(day), *_squads(day), *_tables(day), *_judges(day)]
    if counted:
        return tuple(counted)
    tried: list[Binding] = []
    if make_timetable(replace(day, tables=len(day.activities)), TRY) is not None:
        tried.append(Binding("all_tables"))
    nobody = tuple(replace(activity, judges=()) for activity in day.activities)
    if make_timetable(replace(day, activities=nobody), TRY) is not None:
        tried.append(Binding("all_judges"))
    return tuple(tried) or (Binding("together"),)


def _no_time(day: Day) -> list[Binding]:
    """Squads for which no time of the day is long enough."""
    lacking = {
        activity.squad
        for activity in day.activities
        if _room(day.windows[activity.kind, activity.squad], length(day, activity.kind), timedelta()) == 0
    }
    return [Binding("no_time", tuple(sorted(lacking)))] if lacking else []


def _squads(day: Day) -> list[Binding]:
    """Squads that have more to do than their own windows have minutes."""
    found = []
    for squad in day.squads:
        own = [activity for activity in day.activities if activity.squad == squad]
        needed = sum((length(day, one.kind) for one in own), timedelta())
        there = _minutes({window for kind in {one.kind for one in own} for window in day.windows[kind, squad]})
        if _whole(needed) > there:
            found.append(Binding("squad", (squad,), _whole(needed), there))
    return found


def _tables(day: Day) -> list[Binding]:
    """Squads with the same windows whose runs do not fit on the tables."""
    runs: dict[tuple[Window, ...], list[int]] = defaultdict(list)
    for activity in day.activities:
        if activity.kind == "run":
            runs[day.windows["run", activity.squad]].append(activity.squad)
    found = []
    for windows, squads in runs.items():
        there = _room(windows, day.run, timedelta()) * day.tables
        if len(squads) > there:
            each = _whole(day.run)
            found.append(Binding("tables", tuple(sorted(set(squads))), len(squads) * each, there * each))
    return found


def _judges(day: Day) -> list[Binding]:
    """Judges with more interviews in the same windows than fit one after the other."""
    seen: dict[tuple[int, tuple[Window, ...]], list[int]] = defaultdict(list)
    for activity in day.activities:
        for judge in activity.judges:
            seen[judge, day.windows["interview", activity.squad]].append(activity.squad)
    found = []
    for (judge, windows), squads in seen.items():
        there = _room(windows, day.interview, day.change)
        if len(squads) > there:
            each = _whole(day.interview + day.change)
            found.append(Binding("judge", tuple(sorted(set(squads))), len(squads) * each, there * each, judge))
    return found


def _room(windows: tuple[Window, ...], lasts: timedelta, change: timedelta) -> int:
    """How many of a length fit into the windows, one after the other."""
    return sum(max(0, (end - begin + change) // (lasts + change)) for begin, end in windows)


def _minutes(windows: set[Window]) -> int:
    return sum(_whole(end - begin) for begin, end in windows)


def _whole(time: timedelta) -> int:
    return int(time.total_seconds() // 60)
