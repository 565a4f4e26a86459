"""When the brief goes out, and when the surprise starts."""

from datetime import UTC, datetime

import pytest

from bot.rules.calendar import brief
from bot.rules.calendar.reminders import is_last_hour
from bot.rules.calendar.surprise_for_all import check_may_start, one_waiting
from bot.rules.core.refusal import Refusal
from storage.records.tryout import State
from tests.actions.conftest import small_plan

PLANNED = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
NOW = datetime(2027, 1, 12, 12, 7, 31, 5, tzinfo=UTC)


def test_the_brief_is_released_by_hand_while_sign_up_is_open_and_read_once_it_is_out() -> None:
    brief.check_may_release("signup", None)
    brief.check_out(NOW, PLANNED)
    for state, out, reason in (("drafting", None, "signup_first"), ("window", NOW, "step_over")):
        with pytest.raises(Refusal) as refused:
            brief.check_may_release(state, out)  # type: ignore[arg-type]
        assert refused.value.reason == reason
    with pytest.raises(Refusal):
        brief.check_out(None, PLANNED)


def test_the_window_begins_as_planned_or_at_the_minute_in_which_a_late_brief_comes() -> None:
    assert brief.window_begins(PLANNED, NOW, late=False) == PLANNED
    assert brief.window_begins(PLANNED, NOW, late=True) == datetime(2027, 1, 12, 12, 7, tzinfo=UTC)


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


def test_the_last_hour_is_the_last_one() -> None:
    assert is_last_hour(PLANNED, PLANNED.replace(hour=19))
    assert not is_last_hour(PLANNED, PLANNED.replace(hour=19, minute=29))
