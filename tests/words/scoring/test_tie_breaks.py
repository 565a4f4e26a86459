"""Ties in words: what parted the squads, in order, and nothing that parted nobody."""

import re
from collections.abc import Sequence

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from bot.rules.scoring.standings import standings
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.tie_breaks import tie_lines
from storage.records.scores import ScoreBook
from tests.rules.books import counted_book


def tied_book(table: Sequence[Sequence[int]], keys: Sequence[str]) -> ScoreBook:
    book = counted_book(table, [1] * len(table[0]))
    return book.model_copy(update={"plan": book.plan.model_copy(update={"tie_breaks": tuple(keys)})})


def said(book: ScoreBook) -> str:
    return tie_lines(ResultView(book, standings(book))).removeprefix("**Ties** (equal totals)\n- ")


def test_two_keys_that_each_part_some_are_both_named_in_order() -> None:
    """Squad 1 is first by e1, although it is last by e2: e2 alone would have decided otherwise."""
    book = tied_book([[5, 0, 4], [2, 6, 1], [2, 5, 2]], ["e1", "e2"])
    assert [row.squad_id for row in standings(book).rows] == [1, 2, 3]
    assert said(book) == "**Squad 1**, **Squad 2** and **Squad 3** have the same total; decided by e1, then e2."


def test_a_key_that_parts_nobody_is_not_named() -> None:
    book = tied_book([[3, 5, 1], [3, 4, 2]], ["e1", "e3"])
    assert said(book) == "**Squad 1** and **Squad 2** have the same total; decided by e3."


def test_who_is_left_equal_is_named_beside_what_parted_the_others() -> None:
    book = tied_book([[5, 0, 4], [2, 6, 1], [2, 6, 1]], ["e1", "e2"])
    assert said(book) == (
        "**Squad 1**, **Squad 2** and **Squad 3** have the same total; decided by e1, but for **Squad 2** and "
        "**Squad 3**, who share a place."
    )


@settings(max_examples=60, deadline=None, phases=[Phase.generate])
@given(st.lists(st.tuples(st.integers(0, 2), st.integers(0, 2)), min_size=2, max_size=5))
def test_the_order_is_that_of_the_named_keys_alone(pairs: list[tuple[int, int]]) -> None:
    """All have a total of 6: sorting by the named keys gives the order of the standings. Common practice, no source."""
    table = [[one, other, 6 - one - other] for one, other in pairs]
    book = tied_book(table, ["e1", "e2", "e3"])
    text = said(book)
    named = [int(key) - 1 for key in re.findall(r"\be(\d)", text.partition("decided by")[2])]
    order = [row.squad_id for row in standings(book).rows]
    assert order == sorted(order, key=lambda squad: [-table[squad - 1][key] for key in named])
    assert ("nothing in the plan separates them" in text) == (len(set(pairs)) == 1)
