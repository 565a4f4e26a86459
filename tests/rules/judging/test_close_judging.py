"""In which states of a try-out judging is closed."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging.close_judging import check_may_close, let_go
from tests.words.judging.longest_sheets import MINE


def test_judging_is_closed_after_the_window() -> None:
    check_may_close("judging")
    with pytest.raises(Refusal):
        check_may_close("window")


def test_whatever_is_not_handed_in_is_let_go() -> None:
    assert let_go(MINE[:3]) == [one.sheet.id for one in MINE[:3] if one.sheet.state != "submitted"]
