"""In which states of a try-out turns are booked, judging is closed and squads are taken out; and what comes next."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import get_args

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging import open_and_close_judging, second_look
from bot.rules.practice import booking
from bot.rules.squads.my_squad import comes_next
from bot.rules.squads.take_squad_out import check_may_take_out, goes_when_empty
from storage.records.tryout import State

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


def test_the_result_comes_next_from_judging_on_and_can_be_read_once_it_is_announced() -> None:
    said = {state: comes_next(state) for state in get_args(State)}
    assert {state: word for state, word in said.items() if word} == {
        "judging": "result",
        "settled": "result",
        "announced": "read-result",
    }


def test_turns_are_booked_in_the_window_and_judging_is_closed_after_it() -> None:
    booking.check_running("window", BRIEF)
    open_and_close_judging.check_judging_runs("window")
    second_look.check_may_ask("window")
    open_and_close_judging.check_may_close("judging")
    booking.check_begun("settled", BRIEF)
    refused: list[Callable[[], None]] = [
        lambda: booking.check_running("judging", BRIEF),
        lambda: booking.check_begun("signup", BRIEF),
        lambda: open_and_close_judging.check_may_close("window"),
        lambda: open_and_close_judging.check_judging_runs("settled"),
        lambda: second_look.check_may_ask("settled"),
    ]
    for check in refused:
        with pytest.raises(Refusal):
            check()


def test_a_squad_stands_once_the_result_is_announced() -> None:
    check_may_take_out(result_stands=False)
    assert goes_when_empty(result_stands=False) and not goes_when_empty(result_stands=True)
    with pytest.raises(Refusal):
        check_may_take_out(result_stands=True)
