"""From when until when a surprise can start."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.event_day.surprise_for_all import check_may_start, one_waiting
from storage.records.tryout import State
from tests.actions.conftest import small_plan


@pytest.mark.parametrize(
    ("state", "reason"),
    [("drafting", "surprise_early"), ("signup", "surprise_early"), ("settled", "surprise_over")],
)
def test_a_surprise_starts_between_the_brief_and_the_end_of_judging_only(state: State, reason: str) -> None:
    waits = [event for event in small_plan().events if event.surprise]
    assert check_may_start("window", waits) == check_may_start("judging", waits) == waits
    with pytest.raises(Refusal) as refused:
        check_may_start(state, waits)
    assert refused.value.reason == reason
    with pytest.raises(Refusal):
        check_may_start("window", [])
    with pytest.raises(Refusal):
        one_waiting(waits, "gone")
