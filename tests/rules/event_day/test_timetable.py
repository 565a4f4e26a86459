"""Timetables: beside every possible one on small days, beside other solvers on larger ones, and never with a clash."""

import time
from dataclasses import replace
from itertools import product
from random import Random

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from bot.rules.event_day.timetable import Activity, Day, Slot, _cost, _starts, clashes, make_timetable
from tests.rules.event_day.days import BASE, day, minutes


def small(runs: tuple[int, ...], talks: tuple[tuple[int, int], ...], lesson: int, tables: int) -> Day:
    """`runs` are squads, `talks` are (squad, judge); grid of five minutes and no change between interviews."""
    squads = tuple(sorted({*runs, *(squad for squad, _ in talks)}))
    window = ((BASE, BASE + minutes(lesson)),)
    windows = {(kind, squad): window for squad in squads for kind in ("run", "interview")}
    counted = dict.fromkeys(squads, 0)
    activities = []
    for squad in runs:
        counted[squad] += 1
        activities.append(Activity("run", squad, "run", counted[squad]))
    activities += [Activity("interview", squad, f"talk-{judge}", 1, (judge,)) for squad, judge in talks]
    return Day(squads, tuple(activities), windows, tables, minutes(5), minutes(5), minutes(0))  # type: ignore[arg-type]


def possible(of: Day) -> bool:
    """Whether any timetable has no clash, by trying all of them."""
    starts = [[one for one in _starts(of) if one.place == place] for place in range(len(of.activities))]
    for chosen in product(*starts):
        slots = [Slot(of.activities[one.place], one.begins, one.ends) for one in chosen]
        if clashes(slots):
            continue
        running = [slot for slot in slots if slot.activity.kind == "run"]
        moments = {slot.begins for slot in running}
        if all(sum(one.begins <= at < one.ends for one in running) <= of.tables for at in moments):
            return True
    return False


@given(
    st.lists(st.integers(1, 3), max_size=4).map(tuple),
    st.lists(st.tuples(st.integers(1, 3), st.integers(1, 2)), max_size=3, unique=True).map(tuple),
    st.integers(1, 4),
    st.integers(1, 2),
)
@settings(max_examples=60, deadline=None)
def test_there_is_a_timetable_exactly_where_trying_all_of_them_finds_one(
    runs: tuple[int, ...], talks: tuple[tuple[int, int], ...], slots: int, tables: int
) -> None:
    of = small(runs, talks, 5 * slots, tables)
    found = make_timetable(of)
    assert (found is not None) == possible(of)
    if found is not None:
        assert clashes(found) == []


@pytest.mark.parametrize("seed", range(6))
def test_runs_alone_are_as_a_matching_of_another_library_says(seed: int) -> None:
    """networkx: Hopcroft and Karp's matching of runs and places at the tables."""
    random = Random(seed)
    of = day(random.randint(4, 18), 3, random.randint(1, 3), 0, attempts=1, lesson=random.choice([10, 15, 20, 30]))
    graph: nx.Graph[tuple[object, ...]] = nx.Graph()
    for start in _starts(of):
        for table in range(of.tables):
            graph.add_edge(("run", start.place), ("at", start.begins, table))
    left = {("run", place) for place in range(len(of.activities))}
    graph.add_nodes_from(left)
    matched = nx.bipartite.hopcroft_karp_matching(graph, left)
    assert (make_timetable(of) is not None) == (len(matched) // 2 == len(of.activities))


@pytest.mark.parametrize("seed", range(4))
def test_squads_drawn_earlier_run_earlier_as_far_as_a_second_solver_says(seed: int) -> None:
    """scipy's assignment solver (Jonker and Volgenant), which knows nothing of linear programs."""
    of = replace(day(12, 1, 2, 0, attempts=1, lesson=60, seed=seed))
    starts = list(_starts(of))
    places = sorted({(start.begins, table) for start in starts for table in range(of.tables)})
    costs = np.full((len(of.activities), len(places)), 1e6)
    for start in starts:
        for table in range(of.tables):
            costs[start.place, places.index((start.begins, table))] = _cost(of, start)
    rows, columns = linear_sum_assignment(costs)
    best = costs[rows, columns].sum()
    found = make_timetable(of)
    assert found is not None
    at = {(start.place, start.begins): _cost(of, start) for start in starts}
    places_of = {activity: place for place, activity in enumerate(of.activities)}
    ours = sum(at[places_of[slot.activity], slot.begins] for slot in found)
    assert best <= ours <= best * 1.011
    assert [slot.activity.squad for slot in found][:2] == list(of.squads[:2])


def test_forty_squads_two_tables_and_three_panels_have_a_timetable_soon_enough() -> None:
    of = day(40, 5, 2, 3)
    before = time.process_time()
    found = make_timetable(of)
    assert found is not None
    assert len(found) == 120
    assert clashes(found, of.change) == []
    # The promise is 5 s; seconds of the processor, so that a busy machine does not fail it.
    assert time.process_time() - before < 5
    for slot in found:
        begins, ends = of.windows[slot.activity.kind, slot.activity.squad][0]
        assert begins <= slot.begins < slot.ends <= ends
    tables = {slot.table for slot in found if slot.activity.kind == "run"}
    assert tables == {1, 2}


def test_the_first_run_of_a_squad_is_its_first_attempt() -> None:
    found = make_timetable(day(8, 1, 2, 3))
    assert found is not None
    runs: dict[int, list[int]] = {}
    for slot in found:
        if slot.activity.kind == "run":
            runs.setdefault(slot.activity.squad, []).append(slot.activity.number)
    assert all(numbers == [1, 2] for numbers in runs.values())


def test_judges_have_their_minutes_between_two_squads() -> None:
    of = day(4, 1, 1, 1, attempts=0, lesson=49)
    found = make_timetable(of)
    assert found is not None
    assert clashes(found, of.change) == []
    assert make_timetable(replace(of, change=minutes(4))) is None


def test_a_day_with_nothing_to_do_has_an_empty_timetable() -> None:
    assert make_timetable(replace(day(3, 1, 1, 0), activities=())) == ()


def test_a_clash_names_what_is_needed_twice() -> None:
    one = Slot(Activity("run", 1, "run", 1), BASE, BASE + minutes(5), 1)
    two = Slot(Activity("run", 2, "run", 1), BASE + minutes(3), BASE + minutes(8), 1)
    talk = Slot(Activity("interview", 1, "talk", 1, (7,)), BASE, BASE + minutes(10))
    other = Slot(Activity("interview", 3, "talk", 1, (7, 8)), BASE + minutes(11), BASE + minutes(21))
    assert [clash.what for clash in clashes([one, two])] == ["table"]
    assert [clash.what for clash in clashes([one, talk])] == ["squad"]
    assert clashes([talk, other]) == []
    assert [clash.what for clash in clashes([talk, other], minutes(3))] == ["judge"]
