"""Which times could be swapped, the nearest first."""

from bot.rules.event_day.swap_times import swappable
from tests.rules.event_day.test_running_day import running


def test_those_whose_times_lie_nearest_come_first_in_the_list_to_swap_with() -> None:
    found = running(tables=1)
    slot = next(one for one in found.slots if one.kind == "run")
    others = swappable(found, slot)
    apart = [abs(one.begins_at - slot.begins_at) for one in others]
    assert len(others) >= 2
    assert apart == sorted(apart)
    assert {one.kind for one in others} == {"run"}
    assert slot.squad_id not in {one.squad_id for one in others}
