"""Sharing out judges: known designs, the counting identities, ties, and the condition that stands in the way."""

from collections import Counter
from itertools import combinations, product
from time import process_time

import networkx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.rules.judging.compute_panel import Obstacle, Panel, Problem, assign, describe, filled_seats
from bot.rules.judging.connectedness import Seen, parts
from bot.rules.judging.even_out_panel import least_sum
from tests.rules.reference import reference


def problem(squads: int, judges: int, per_squad: int, **more: frozenset[Seen]) -> Problem:
    return Problem(tuple(range(squads)), tuple(range(100, 100 + judges)), per_squad, **more)


def found(asked: Problem) -> Panel:
    panel = assign(asked)
    assert isinstance(panel, Panel), panel
    return panel


def stopped(asked: Problem) -> Obstacle:
    obstacle = assign(asked)
    assert isinstance(obstacle, Obstacle), obstacle
    return obstacle


# Reference table C6 (tables of Fisher & Yates; Cochran & Cox ch. 11) as v judges in b panels of k.
@pytest.mark.parametrize("name", ["C6a", "C6b", "C6c", "C6d", "C6e", "C6f", "C6g"])
def test_a_balanced_design_is_found_where_one_is_known(name: str) -> None:
    wanted = reference(name)["expected"]
    panel = found(problem(squads=wanted["b"], judges=wanted["v"], per_squad=wanted["k"][0]))
    assert set(panel.loads.values()) == set(wanted["r"])
    assert set(panel.meetings.values()) == set(wanted["lambda"])
    assert panel.balanced and len(panel.parts) == wanted["components"]


@pytest.mark.parametrize("name", ["C6a", "C6b", "C6c", "C6d", "C6e", "C6f", "C6g"])
def test_a_design_is_found_the_other_way_round_too(name: str) -> None:
    wanted = reference(name)["expected"]
    panel = found(problem(squads=wanted["v"], judges=wanted["b"], per_squad=wanted["r"][0]))
    assert set(panel.shared.values()) == set(wanted["lambda"])
    assert panel.balanced


def test_a_design_of_squads_seen_by_unequally_many_is_not_called_balanced() -> None:
    """Two blocks of three and nine of two: every judge in four, every pair in one (pairwise balanced; by hand)."""
    blocks = [(1, 2, 3), (4, 5, 6), *((one, other) for one in (1, 2, 3) for other in (4, 5, 6))]
    seats = [(block, judge) for block, judges in enumerate(blocks) for judge in judges]
    panel = describe(range(len(blocks)), range(1, 7), seats)
    assert (set(panel.loads.values()), set(panel.meetings.values())) == ({4}, {1})
    assert not panel.balanced


@pytest.mark.parametrize("name", ["C6a", "C6c", "C6h"])
def test_what_is_said_of_a_design_is_what_the_reference_says(name: str) -> None:
    case = reference(name)
    seats = [(block, 100 + judge) for block, judges in enumerate(case["input"]["blocks"]) for judge in judges]
    panel = describe(range(len(case["input"]["blocks"])), {judge for _, judge in seats}, seats)
    assert set(panel.loads.values()) == set(case["expected"]["r"])
    assert set(panel.meetings.values()) == set(case["expected"]["lambda"])
    assert panel.balanced == case["expected"]["is_bibd"]
    assert len(panel.parts) == case["expected"]["components"]


def test_the_counting_identities_hold_for_every_design_found_and_the_search_ends_where_none_exists() -> None:
    case = reference("C7")
    for (v, b, r, k, often), exists in zip(case["input"], case["expected"]["design_exists"], strict=True):
        if v > 22:
            continue
        panel = assign(problem(squads=b, judges=v, per_squad=k))
        assert isinstance(panel, Panel)
        assert panel.balanced == (exists and b * k == v * r)
        if panel.balanced:
            assert (b * k, r * (k - 1)) == (v * r, often * (v - 1))


@pytest.mark.parametrize("judges", [6, 12])
@pytest.mark.parametrize("per_squad", [2, 3, 4, 5, 6])
def test_thirty_squads_are_shared_out_as_evenly_as_whole_numbers_allow(judges: int, per_squad: int) -> None:
    asked = problem(squads=30, judges=judges, per_squad=per_squad)
    start = process_time()
    panel = found(asked)
    assert process_time() - start < 20, "by the processor; bench_panels says how long it takes"
    assert sum(met**2 for met in panel.meetings.values()) == least_sum(30, judges, per_squad)
    assert max(panel.loads.values()) - min(panel.loads.values()) <= 1
    assert panel.hinges == ()


def test_thirty_squads_with_many_ties_are_shared_out_without_a_search_that_explodes() -> None:
    tied = frozenset((squad, 100 + judge) for squad in range(30) for judge in range(12) if (squad * 5 + judge) % 4 == 0)
    asked = problem(squads=30, judges=12, per_squad=4, tied=tied)
    start = process_time()
    panel = found(asked)
    assert process_time() - start < 20, "by the processor; bench_panels says how long it takes"
    assert not panel.seats & tied
    assert set(panel.loads.values()) == {10}
    # Each two judges meet 2 or 3 times where nobody is tied; ties cost a little of that.
    assert max(panel.meetings.values()) - min(panel.meetings.values()) <= 3


def test_a_panel_is_the_same_every_time() -> None:
    assert found(problem(9, 5, 3)) == found(problem(9, 5, 3))


# Reference table C8: J1 barred once each, then J1 barred from three of four.
def test_ties_that_leave_room_are_kept() -> None:
    asked, _ = _c8("C8a")
    assert filled_seats(asked, reference("C8a")["input"]["cap"])[0] == 8
    panel = found(asked)
    assert not panel.seats & asked.tied and len(panel.seats) == 8


def test_squads_that_stay_short_are_named_though_each_has_judges_enough() -> None:
    asked, expected = _c8("C8b")
    assert all(len(asked.free(squad)) >= asked.per_squad for squad in asked.squads)
    assert filled_seats(asked, reference("C8b")["input"]["cap"])[0] == expected["max_seats"]
    obstacle = stopped(asked)
    assert (obstacle.kind, obstacle.judges, obstacle.have, obstacle.need) == ("judge-tied", (100,), 1, 2)


def test_three_squads_that_share_too_few_judges_are_named_together() -> None:
    tied = frozenset((squad, judge) for squad in range(3) for judge in (102, 103, 104, 105))
    obstacle = stopped(problem(6, 6, 2, tied=tied))
    assert obstacle.kind == "squads-short"
    assert obstacle.squads == (0, 1, 2) and set(obstacle.judges) == {100, 101}
    assert (obstacle.have, obstacle.need) == (10, 12)


def test_judges_who_cannot_get_their_share_are_named_together() -> None:
    tied = frozenset((squad, judge) for squad in range(2, 8) for judge in (100, 101, 102))
    obstacle = stopped(problem(8, 7, 2, tied=tied))
    assert (obstacle.kind, obstacle.judges) == ("judges-short", (100, 101, 102))
    assert (obstacle.have, obstacle.need) == (12, 14)


@pytest.mark.parametrize(
    ("asked", "kind"),
    [
        (problem(0, 2, 1), "no-squads"),
        (problem(3, 0, 1), "no-judges"),
        (problem(3, 2, 3), "few-judges"),
        (problem(3, 3, 1), "few-seats"),
        (problem(3, 3, 2, tied=frozenset({(0, 100), (0, 101)})), "squad-tied"),
        (problem(3, 3, 2, tied=frozenset({(0, 100)}), fixed=frozenset({(0, 100)})), "fixed-tied"),
        (problem(3, 3, 1, fixed=frozenset({(0, 100), (0, 101)})), "fixed-many"),
        (problem(4, 2, 1, fixed=frozenset((squad, 100) for squad in range(3))), "judge-full"),
        (problem(4, 4, 2, tied=frozenset((squad, 100) for squad in range(3))), "judge-tied"),
    ],
)
def test_the_condition_in_the_way_is_named(asked: Problem, kind: str) -> None:
    assert stopped(asked).kind == kind


def test_squads_that_no_chain_of_judges_can_link_are_named() -> None:
    tied = frozenset((squad, judge) for squad in (0, 1) for judge in (102, 103)) | frozenset(
        (squad, judge) for squad in (2, 3) for judge in (100, 101)
    )
    obstacle = stopped(problem(4, 4, 2, tied=tied))
    assert obstacle.kind == "apart"
    assert (obstacle.squads, obstacle.judges) in (((0, 1), (100, 101)), ((2, 3), (102, 103)))


def test_one_squad_needs_no_chain() -> None:
    assert len(found(problem(1, 3, 2)).seats) == 2


def test_a_judge_on_whom_alone_the_chain_hangs_is_named() -> None:
    panel = describe((1, 2, 3), (7, 8, 9), [(1, 7), (1, 8), (2, 8), (3, 8), (3, 9), (2, 9)])
    assert panel.hinges == (8,)
    assert describe((1, 2), (7,), [(1, 7)]).parts[1].squads == (2,)


@st.composite
def small_problems(draw: st.DrawFn) -> Problem:
    squads, judges = draw(st.integers(1, 4)), draw(st.integers(1, 3))
    pairs = list(product(range(squads), range(100, 100 + judges)))
    tied = frozenset(draw(st.lists(st.sampled_from(pairs), max_size=4)))
    fixed = frozenset(draw(st.lists(st.sampled_from(pairs), max_size=3)))
    return problem(squads, judges, draw(st.integers(1, 3)), tied=tied, fixed=fixed)


def every_seating(asked: Problem) -> bool:
    """Whether any seating at all keeps every condition: all of them are tried."""
    choices = [list(combinations(asked.free(squad), asked.per_squad)) for squad in asked.squads]
    for picked in product(*choices):
        seats = {(squad, judge) for squad, judges in zip(asked.squads, picked, strict=True) for judge in judges}
        loads = Counter(judge for _, judge in seats)
        shares = [loads[judge] for judge in asked.judges]
        if asked.fixed <= seats and max(shares) - min(shares) <= 1 and len(parts(seats)) == 1:
            return True
    return False


@given(small_problems())
@settings(max_examples=300)
def test_a_panel_is_found_exactly_when_there_is_one_and_keeps_every_condition(asked: Problem) -> None:
    answer = assign(asked)
    assert isinstance(answer, Panel) == every_seating(asked)
    if isinstance(answer, Panel):
        assert asked.fixed <= answer.seats and not answer.seats & asked.tied
        assert set(Counter(squad for squad, _ in answer.seats).values()) == {asked.per_squad}
        assert max(answer.loads.values()) - min(answer.loads.values()) <= 1
        assert len(answer.parts) == 1


@st.composite
def tied_problems(draw: st.DrawFn) -> Problem:
    squads, judges = draw(st.integers(2, 7)), draw(st.integers(2, 6))
    pairs = list(product(range(squads), range(100, 100 + judges)))
    return problem(squads, judges, draw(st.integers(1, 4)), tied=frozenset(draw(st.sets(st.sampled_from(pairs)))))


@given(tied_problems(), st.integers(0, 6))
def test_how_far_the_judges_reach_agrees_with_an_independent_maximum_flow(asked: Problem, cap: int) -> None:
    graph: networkx.DiGraph[object] = networkx.DiGraph()
    for squad in asked.squads:
        graph.add_edge("source", ("squad", squad), capacity=asked.per_squad)
        for judge in asked.free(squad):
            graph.add_edge(("squad", squad), ("judge", judge), capacity=1)
    for judge in asked.judges:
        graph.add_edge(("judge", judge), "sink", capacity=cap)
    assert filled_seats(asked, cap)[0] == networkx.maximum_flow_value(graph, "source", "sink")


@given(tied_problems())
def test_an_obstacle_always_says_that_less_is_there_than_is_needed(asked: Problem) -> None:
    answer = assign(asked)
    if isinstance(answer, Obstacle) and answer.kind not in (
        "no-squads",
        "no-judges",
        "apart",
        "fixed-tied",
        "fixed-many",
        "judge-full",
    ):
        assert answer.have < answer.need
        assert answer.kind in ("few-judges", "few-seats") or answer.squads or answer.judges


def _c8(name: str) -> tuple[Problem, dict[str, int]]:
    case = reference(name)
    squads = {squad: number for number, squad in enumerate(case["input"]["squads"])}
    judges = {judge: 100 + number for number, judge in enumerate(case["input"]["judges"])}
    tied = frozenset((squads[squad], judges[judge]) for judge, squad in case["input"]["barred"])
    asked = Problem(tuple(squads.values()), tuple(judges.values()), case["input"]["per_squad"], tied=tied)
    return asked, case["expected"]
