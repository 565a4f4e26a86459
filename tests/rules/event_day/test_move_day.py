"""By how much the day moves, and what moves with it."""

from dataclasses import replace
from datetime import timedelta

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.event_day.move_day import LATEST, moved_later, read_minutes
from tests.rules.event_day.days import after, minutes, running


@pytest.mark.parametrize("typed", ["0", str(LATEST + 1), "-5", "soon", "1.5", ""])
def test_a_day_moves_by_whole_minutes_up_to_the_most(typed: str) -> None:
    assert [read_minutes(one) for one in ("1", " 15 ", str(LATEST))] == [1, 15, LATEST]
    with pytest.raises(Refusal, match="later_minutes"):
        read_minutes(typed)


def test_what_is_over_stays_and_so_does_what_is_on_another_day() -> None:
    found = running()
    first = found.queues[0].slots[0]
    tomorrow = tuple(
        slot.model_copy(update={"id": slot.id + 100, "begins_at": slot.begins_at + timedelta(days=1)})
        for slot in found.slots
    )
    both = replace(found, slots=(*found.slots, *tomorrow), made={(first.squad_id, first.event): 1})
    later = after(both, moved_later(both, minutes(10)))
    assert later.slot(first.id).begins_at == first.begins_at
    moved = {slot.id for slot in both.slots if later.slot(slot.id).begins_at != slot.begins_at}
    assert moved == {slot.id for slot in found.slots} - {first.id}
