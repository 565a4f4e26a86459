"""Orders of presentation: no squad twice in one place, none early on the whole; the squares of Williams (1949)."""

from collections import Counter, defaultdict
from itertools import pairwise, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.judging.compute_panel import Panel, Problem, assign
from bot.rules.judging.connectedness import Seen
from bot.rules.judging.presentation_order import order_of, places, places_kept, williams
from tests.rules.reference import reference


def panel(squads: int, judges: int, per_squad: int) -> Panel:
    found = assign(Problem(tuple(range(squads)), tuple(range(100, 100 + judges)), per_squad))
    assert isinstance(found, Panel)
    return found


# A balanced design with as many blocks as points can always be ordered into a Youden square (W. J. Youden 1937).
@pytest.mark.parametrize(("size", "per_squad"), [(7, 3), (11, 5), (13, 4)])
def test_a_symmetric_design_becomes_a_youden_square(size: int, per_squad: int) -> None:
    found = places(panel(size, size, per_squad).seats)
    assert set(Counter((squad, place) for (squad, _), place in found.items()).values()) == {1}
    assert set(found.values()) == set(range(1, per_squad + 1))


@pytest.mark.parametrize(("squads", "judges", "per_squad"), [(10, 6, 3), (30, 12, 4), (8, 5, 3), (12, 4, 2)])
def test_no_squad_is_early_with_all_its_judges(squads: int, judges: int, per_squad: int) -> None:
    shared = panel(squads, judges, per_squad)
    found = places(shared.seats)
    behind: dict[int, float] = defaultdict(float)
    for (squad, judge), place in found.items():
        behind[squad] += place - (shared.loads[judge] + 1) / 2
    # Half of a judge's list is the most that chance could do with each judge.
    assert max(map(abs, behind.values())) / per_squad < max(shared.loads.values()) / 4


@given(st.sets(st.sampled_from(list(product(range(6), range(100, 105))))))
def test_every_judge_has_an_order_of_exactly_the_own_squads_and_no_squad_repeats_a_place_needlessly(
    seats: set[Seen],
) -> None:
    found = places(seats)
    assert set(found) == seats
    for judge in {judge for _, judge in seats}:
        mine = sorted(place for (_, other), place in found.items() if other == judge)
        assert mine == list(range(1, len(mine) + 1))


@given(st.integers(2, 7), st.integers(1, 7))
def test_where_everybody_sees_everybody_the_orders_are_a_latin_square_or_part_of_one(squads: int, judges: int) -> None:
    found = places(set(product(range(squads), range(100, 100 + min(judges, squads)))))
    assert set(Counter((squad, place) for (squad, _), place in found.items()).values()) == {1}


def test_a_panel_of_nobody_has_no_order() -> None:
    assert places([]) == {}


def test_once_something_is_begun_places_stay_and_new_squads_come_last() -> None:
    now = {(1, 7): 2, (2, 7): 1, (1, 8): 1}
    assert places_kept({*now, (3, 7), (3, 8)}, now, begun=True) == now | {(3, 7): 3, (3, 8): 2}
    assert places_kept(now.keys(), now, begun=False) == places(now.keys())


def test_the_orders_are_those_of_the_reference_table() -> None:
    expected = reference("C9")["expected"]
    assert [list(row) for row in williams(4)] == expected["4"]
    assert list(williams(5)[0]) == expected["5_first_row"]
    assert {str(count): len(williams(count)) for count in (4, 5)} == expected["orders_needed"]


@pytest.mark.parametrize("count", range(2, 31))
def test_every_squad_stands_in_every_place_and_follows_every_other_equally_often(count: int) -> None:
    rows = williams(count)
    often = 1 if count % 2 == 0 else 2
    assert len(rows) == count * often
    places = Counter((place, squad) for row in rows for place, squad in enumerate(row))
    assert set(places.values()) == {often} and len(places) == count * count
    follows = Counter(pair for row in rows for pair in pairwise(row))
    assert set(follows.values()) == {often} and len(follows) == count * (count - 1)


@given(st.integers(0, 30), st.integers(1, 60))
def test_the_order_of_any_judge_holds_every_squad_once(count: int, number: int) -> None:
    assert sorted(order_of(number, count)) == list(range(count))


@given(st.integers(2, 30), st.integers(1, 15))
def test_two_judges_in_turn_see_the_squads_in_opposite_orders(count: int, pair: int) -> None:
    assert order_of(2 * pair, count) == order_of(2 * pair - 1, count)[::-1]


@given(st.integers(2, 30))
def test_as_many_judges_as_there_are_orders_use_each_of_them_once(count: int) -> None:
    rows = williams(count)
    assert {order_of(number, count) for number in range(1, len(rows) + 1)} == set(rows)
