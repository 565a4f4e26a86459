"""Orders of presentation against the published property of Williams squares (1949) and reference table C9."""

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.orders import order_of, williams

C9_FOUR = ((0, 1, 3, 2), (1, 2, 0, 3), (2, 3, 1, 0), (3, 0, 2, 1))
C9_FIVE_FIRST = (0, 1, 4, 2, 3)


def test_the_orders_are_those_of_the_reference_table() -> None:
    assert williams(4) == C9_FOUR
    assert williams(5)[0] == C9_FIVE_FIRST


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
