"""Until when a squad can be taken out."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads.take_squad_out import check_may_take_out


def test_a_squad_stands_once_the_result_is_announced() -> None:
    check_may_take_out(result_stands=False)
    with pytest.raises(Refusal):
        check_may_take_out(result_stands=True)
