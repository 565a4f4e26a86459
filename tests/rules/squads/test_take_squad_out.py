"""Until when a squad can be taken out."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads.take_squad_out import check_may_take_out, goes_when_empty


def test_a_squad_stands_once_the_result_is_announced() -> None:
    check_may_take_out(result_stands=False)
    assert goes_when_empty(result_stands=False) and not goes_when_empty(result_stands=True)
    with pytest.raises(Refusal):
        check_may_take_out(result_stands=True)
