"""Who runs off (common practice, no source)."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.scorekeeping.run_offs import check_not_early, check_run_off


def test_only_squads_in_a_tie_run_off() -> None:
    check_run_off(True, 2, 0, 2, "The Dustpans")
    with pytest.raises(Refusal, match="attempts_used"):
        check_run_off(False, 2, 0, 2, "The Dustpans")
    with pytest.raises(Refusal, match="no_tie"):
        check_run_off(False, 2, 1, 2, "The Dustpans")


def test_nobody_runs_off_while_the_order_is_hidden() -> None:
    check_not_early(order_hidden=False)
    with pytest.raises(Refusal, match="run_off_later"):
        check_not_early(order_hidden=True)
