"""In which states of a try-out judges mark, ask for a second look, and judging is closed."""

from collections.abc import Callable

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging import close_judging, open_judging, second_look


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
