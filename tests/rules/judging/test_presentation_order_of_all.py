"""Orders of presentation: the published property of Williams squares (1949), and `tests/rules/reference/C9.json`."""

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.judging.presentation_order import order_of, williams
from tests.rules.reference import reference


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
