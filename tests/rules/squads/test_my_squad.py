"""What is said to come next on a student's own page."""

from typing import get_args

from bot.rules.squads.my_squad import comes_next
from storage.records.tryout import State


def test_the_result_comes_next_from_judging_on_and_can_be_read_once_it_is_announced() -> None:
    said = {state: comes_next(state) for state in get_args(State)}
    assert {state: word for state, word in said.items() if word} == {
        "judging": "result",
        "settled": "result",
        "announced": "read-result",
    }
