"""What is said of a deadline on a day without school."""

import pytest

from bot.rules.calendar.calendar import schedule
from bot.rules.core.refusal import Refusal
from bot.words.core.refusals import message
from tests.rules.plan_samples import plan


def test_a_refused_deadline_is_told_with_the_next_school_day() -> None:
    of_plan = plan(closed=["2026-11-05"], deadline_on_closed_day="refuse")
    with pytest.raises(Refusal) as refused:
        schedule(of_plan)
    assert "05 November 2026" in message(refused.value).text
    assert "06 November 2026" in message(refused.value).text
