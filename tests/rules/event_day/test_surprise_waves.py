"""For whom a surprise starts in a wave."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.event_day.surprise_waves import left_after, picked
from tests.rules.books import count, event, plan, squads

CLASS, PLAN = squads(3), plan(event("run", count()))


def test_one_squad_is_picked_for_which_it_has_not_started() -> None:
    assert picked("squad-2", PLAN, CLASS, {1}) == (CLASS[1],)
    for choice in ("squad-1", "squad-9", "squad-", "section-7"):
        with pytest.raises(Refusal, match="wave_nobody"):
            picked(choice, PLAN, CLASS, {1})


def test_after_the_last_wave_nobody_is_left() -> None:
    assert left_after(CLASS, {1}) == 2
    assert left_after(CLASS, {1}, CLASS[1:]) == 0
