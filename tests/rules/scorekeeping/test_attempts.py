"""Which attempt is next, and who runs off (common practice, no source)."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.scorekeeping.attempts import (
    check_next,
    check_run_off,
    check_run_off_not_early,
    has_more,
    is_done,
    which_attempt,
)


def test_attempts_follow_one_another_as_many_as_the_plan_gives() -> None:
    check_next(2, 1, 2, "The Dustpans")
    with pytest.raises(Refusal, match="attempt_gone"):
        check_next(3, 1, 3, "The Dustpans")
    with pytest.raises(Refusal, match="attempts_used"):
        check_next(3, 2, 2, "The Dustpans")
    check_next(3, 2, None, "The Dustpans")


def test_after_the_last_attempt_of_the_plan_comes_a_run_off() -> None:
    assert [which_attempt(made, 0, 2) for made in range(3)] == [(1, False), (2, False), (1, True)]
    assert which_attempt(2, 1, 2) == (2, True)


def test_a_squad_is_done_with_all_its_attempts_or_where_it_does_not_take_part() -> None:
    assert [is_done(made, 2, absent=False) for made in range(4)] == [False, False, True, True]
    assert is_done(0, 2, absent=True)
    assert [has_more(number, False, 2) for number in (1, 2)] == [True, False]
    assert not has_more(1, True, 2)


def test_only_squads_in_a_tie_run_off() -> None:
    check_run_off(True, 2, 0, 2, "The Dustpans")
    with pytest.raises(Refusal, match="attempts_used"):
        check_run_off(False, 2, 0, 2, "The Dustpans")
    with pytest.raises(Refusal, match="no_tie"):
        check_run_off(False, 2, 1, 2, "The Dustpans")


def test_nobody_runs_off_while_the_order_is_hidden() -> None:
    check_run_off_not_early(order_hidden=False)
    with pytest.raises(Refusal, match="run_off_later"):
        check_run_off_not_early(order_hidden=True)
