"""Which times could be swapped, the nearest first, and which may be."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.event_day.swap_times import swappable, swapped
from tests.rules.event_day.days import running


def test_those_whose_times_lie_nearest_come_first_in_the_list_to_swap_with() -> None:
    found = running(tables=1)
    slot = next(one for one in found.slots if one.kind == "run")
    others = swappable(found, slot)
    apart = [abs(one.begins_at - slot.begins_at) for one in others]
    assert len(others) >= 2
    assert apart == sorted(apart)
    assert {one.kind for one in others} == {"run"}
    assert slot.squad_id not in {one.squad_id for one in others}


def test_a_run_does_not_swap_with_an_interview() -> None:
    found = running()
    run = next(slot for slot in found.slots if slot.kind == "run")
    talk = next(slot for slot in found.slots if slot.kind == "interview" and slot.ends_at > found.now)
    with pytest.raises(Refusal, match="swap_kind"):
        swapped(found, run, talk)
