"""Who runs off (common practice, no source)."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.scorekeeping.run_offs import check_run_off


def test_only_squads_in_a_tie_run_off() -> None:
    check_run_off(True, 2, 0, 2, "The Dustpans")
    with pytest.raises(Refusal, match="attempts_used"):
        check_run_off(False, 2, 0, 2, "The Dustpans")
    with pytest.raises(Refusal, match="no_tie"):
        check_run_off(False, 2, 1, 2, "The Dustpans")
