"""Who was not there twice is for the coach to decide."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.event_day.no_show import to_the_end
from tests.rules.event_day.days import after, running


def test_who_was_not_there_twice_is_for_the_coach_to_decide() -> None:
    found = running(tables=1)
    first = found.queues[0].slots[0]
    moved = after(found, to_the_end(found, first))
    gone = moved.slot(first.id)
    assert gone.misses == 1
    assert gone.begins_at > first.begins_at
    with pytest.raises(Refusal, match="missed_twice"):
        to_the_end(moved, gone)
