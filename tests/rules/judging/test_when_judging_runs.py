"""In which states of a try-out judges mark, ask for a second look, and judging is closed."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging import close_judging, open_judging, second_look
from tests.rules.calendar.ready_for_each_step import READY, SCHEDULE, kinds


def test_judging_runs_in_the_window_and_is_closed_after_it() -> None:
    open_judging.check_judging_runs("window")
    second_look.check_may_ask("window")
    close_judging.check_may_close("judging")
    refused: list[Callable[[], None]] = [
        lambda: close_judging.check_may_close("window"),
        lambda: open_judging.check_judging_runs("settled"),
        lambda: second_look.check_may_ask("settled"),
    ]
    for check in refused:
        with pytest.raises(Refusal):
            check()


def test_a_coach_who_judges_hands_in_before_seeing_where_judges_differ() -> None:
    second_look.check_own_sheets_in(0, "no score sheet")
    with pytest.raises(Refusal, match="own_sheets_first"):
        second_look.check_own_sheets_in(2, "2 score sheets")


def test_judging_begins_at_the_deadline_and_open_sheets_are_worth_knowing_before_its_close() -> None:
    assert kinds(open_judging.lacks(READY)) == [("window_open", True)]
    late = replace(READY, now=SCHEDULE.deadline, judges_ready=2, small=("Muddy Teapots",))
    assert kinds(open_judging.lacks(late)) == [("judges_wait", False), ("small", False)]
    assert kinds(close_judging.lacks(replace(READY, sheets=10, sheets_done=7))) == [("sheets", False)]
    assert kinds(close_judging.lacks(replace(READY, sheets=10, sheets_done=10))) == []
