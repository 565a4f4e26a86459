"""In which states of a try-out judging is closed."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging.close_judging import check_may_close


def test_judging_is_closed_after_the_window() -> None:
    check_may_close("judging")
    with pytest.raises(Refusal):
        check_may_close("window")
