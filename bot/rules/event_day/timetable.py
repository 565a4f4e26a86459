"""The timetable of the event days: a time for every run and interview, nobody in two places; how long one searches.

Each squad runs in the windows of its section, as many times as the plan gives attempts, on one of the tables, which
work side by side; and it meets its judges. Among all timetables without clashes the one is looked for in which squads
drawn earlier run earlier: a mixed-integer program with one 0/1 variable for each time at which something may begin,
solved by HiGHS (scipy.optimize.milp).
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import islice
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_event_day import DayReason
from bot.rules.event_day.day_windows import Window
from storage.records.event_day import DaySlot

LONGEST_SEARCH = 4.0
"""Seconds; then the best timetable found so far is taken."""
MOST_STARTS = 60_000
"""Times at which something could begin, all activities together: so many take about 10 s and 250 MB, and a day of sixty
squads with three runs has half of them."""
GOOD_ENOUGH = 0.01
"""How far the sum of the times, weighted by the draw, may lie above the lowest possible."""
Kind = Literal["run", "interview"]


@dataclass(frozen=True)
class Activity:
    """Something of one squad that needs a time."""

    kind: Kind
    squad: int
    event: str
    number: int = 1
    """Which attempt a run is."""
    judges: tuple[int, ...] = ()


@dataclass(frozen=True)
class Day:
    """What a timetable is made from."""

    squads: tuple[int, ...]
    """In the order drawn."""
    activities: tuple[Activity, ...]
    windows: Mapping[tuple[Kind, int], tuple[Window, ...]]
    """When a squad may run, and when it may be interviewed."""
    tables: int
    run: timedelta
    interview: timedelta
    change: timedelta
    """What judges need after an interview before the next one."""


@dataclass(frozen=True)
class Slot:
    """One activity with its time and place."""

    activity: Activity
    begins: datetime
    ends: datetime
    table: int | None = None
    """Of a run, from 1."""


@dataclass(frozen=True)
class _Start:
    """A time at which an activity could begin."""

    place: int
    """Of the activity."""
    begins: datetime
    ends: datetime
    free: datetime
    """When its judges can be elsewhere."""
    order: int
    """How many times of its squad and kind come before it."""


def in_order(slots: Iterable[DaySlot]) -> tuple[DaySlot, ...]:
    """The timetable in the order in which it is read: by time; at the same time runs first, by table."""
    return tuple(sorted(slots, key=lambda one: (one.begins_at, one.kind != "run", one.table_number or 0, one.id)))


def check_made(slots: Sequence[DaySlot]) -> None:
    """There is a timetable. Raises Refusal: `no_timetable`."""
    if not slots:
        raise Refusal(DayReason.NO_TIMETABLE)


def length(day: Day, kind: Kind) -> timedelta:
    """How long an activity of a kind takes its squad."""
    return day.run if kind == "run" else day.interview


def make_timetable(day: Day, seconds: float = LONGEST_SEARCH) -> tuple[Slot, ...] | None:
    """A time for every activity, in order of time; None where there is none (or none was found in so many seconds).

    Raises:
        Refusal: `day_large`, when there is more to look through than can be.
    """
    starts = list(islice(_starts(day), MOST_STARTS + 1))
    if len(starts) > MOST_STARTS:
        raise Refusal(DayReason.DAY_LARGE)
    if not day.activities:
        return ()
    if {start.place for start in starts} != set(range(len(day.activities))):
        return None
    chosen = _solve(day, starts, seconds)
    return None if chosen is None else _placed(day, chosen)


def _starts(day: Day) -> Iterator[_Start]:
    """Every time at which each activity could begin: a grid of runs, and for interviews also one of interviews."""
    for place, activity in enumerate(day.activities):
        lasts = length(day, activity.kind)
        steps = {day.run} if activity.kind == "run" else {day.run, day.interview + day.change}
        times = sorted(
            {
                begin + step * number
                for begin, end in day.windows[activity.kind, activity.squad]
                for step in steps
                for number in range((end - begin - lasts) // step + 1)
            }
        )
        for order, begins in enumerate(times):
            after = begins + lasts
            yield _Start(place, begins, after, after + (day.change if activity.judges else timedelta()), order)


def _solve(day: Day, starts: Sequence[_Start], seconds: float) -> list[_Start] | None:
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    rows: list[int] = []
    columns: list[int] = []
    lower: list[float] = []
    upper: list[float] = []
    for column, start in enumerate(starts):
        rows.append(start.place)
        columns.append(column)
    lower += [1.0] * len(day.activities)
    upper += [1.0] * len(day.activities)
    for together, most in _together(day, starts):
        rows += [len(lower)] * len(together)
        columns += together
        lower.append(0.0)
        upper.append(most)
    matrix = csr_array((np.ones(len(rows)), (rows, columns)), shape=(len(lower), len(starts)))
    result = milp(
        np.array([_cost(day, start) for start in starts]),
        integrality=np.ones(len(starts)),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(matrix, np.array(lower), np.array(upper)),
        options={"time_limit": seconds, "mip_rel_gap": GOOD_ENOUGH},
    )
    if result.x is None:
        return None
    return [start for start, value in zip(starts, result.x, strict=True) if value > 0.5]


def _cost(day: Day, start: _Start) -> float:
    """Later is dearer, most of all for squads drawn first; first runs come before second ones."""
    activity = day.activities[start.place]
    rank = day.squads.index(activity.squad)
    weight = len(day.squads) - rank
    if activity.kind == "run":
        return float(start.order * (weight + (len(day.squads) if activity.number == 1 else 0)))
    return start.order * 0.1


def _together(day: Day, starts: Sequence[_Start]) -> Iterator[tuple[list[int], float]]:
    """Starts that cannot all be chosen, and how many can: those that keep a squad, a judge or the tables busy at once.

    It is enough to look at the moments at which something begins: where more overlap than may, some of them do then.
    """
    busy: dict[tuple[str, int], list[tuple[datetime, datetime, int]]] = defaultdict(list)
    for column, start in enumerate(starts):
        activity = day.activities[start.place]
        busy["squad", activity.squad].append((start.begins, start.ends, column))
        if activity.kind == "run":
            busy["tables", 0].append((start.begins, start.ends, column))
        for judge in activity.judges:
            busy["judge", judge].append((start.begins, start.free, column))
    for (what, _), times in busy.items():
        most = day.tables if what == "tables" else 1
        seen: set[tuple[int, ...]] = set()
        for moment in sorted({begins for begins, _, _ in times}):
            together = tuple(column for begins, ends, column in times if begins <= moment < ends)
            if len(together) > most and together not in seen:
                seen.add(together)
                yield list(together), float(most)


def _placed(day: Day, chosen: Sequence[_Start]) -> tuple[Slot, ...]:
    """Slots in order of time, each run at a table, and the earlier run of a squad its earlier attempt."""
    runs: dict[tuple[int, str], list[_Start]] = defaultdict(list)
    slots = []
    for start in chosen:
        activity = day.activities[start.place]
        if activity.kind == "run":
            runs[activity.squad, activity.event].append(start)
        else:
            slots.append(Slot(activity, start.begins, start.ends))
    for (squad, event), found in runs.items():
        for number, start in enumerate(sorted(found, key=lambda one: one.begins), start=1):
            slots.append(Slot(Activity("run", squad, event, number), start.begins, start.ends))
    ordered = sorted(slots, key=lambda one: (one.begins, day.squads.index(one.activity.squad)))
    free = {table: datetime.min.replace(tzinfo=ordered[0].begins.tzinfo) for table in range(1, day.tables + 1)}
    last: dict[tuple[int, str], int] = {}
    for place, slot in enumerate(ordered):
        if slot.activity.kind == "run":
            about = (slot.activity.squad, slot.activity.event)
            tables = [table for table, until in free.items() if until <= slot.begins]
            table = last[about] if last.get(about) in tables else tables[0]
            free[table], last[about] = slot.ends, table
            ordered[place] = replace(slot, table=table)
    return tuple(ordered)


@dataclass(frozen=True)
class Clash:
    """Two slots that cannot both stand, and why."""

    what: Literal["squad", "judge", "table"]
    one: Slot
    other: Slot


def clashes(slots: Sequence[Slot], change: timedelta = timedelta()) -> list[Clash]:
    """Every two slots that need the same squad, judge or table at once; judges have `change` between interviews."""
    found = []
    ordered = sorted(slots, key=lambda one: one.begins)
    for place, one in enumerate(ordered):
        for other in ordered[place + 1 :]:
            if other.begins >= one.ends + change:
                break
            judges = set(one.activity.judges) & set(other.activity.judges)
            if judges:
                found.append(Clash("judge", one, other))
            elif other.begins < one.ends:
                if one.activity.squad == other.activity.squad:
                    found.append(Clash("squad", one, other))
                elif one.table is not None and one.table == other.table:
                    found.append(Clash("table", one, other))
    return found
