"""When the brief can be released, and at which minute the days to the deadline begin."""

from datetime import UTC, datetime

import pytest

from bot.rules.calendar import release_brief
from bot.rules.core.refusal import Refusal
from storage.records.tryout import State

PLANNED = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
NOW = datetime(2027, 1, 12, 12, 7, 31, 5, tzinfo=UTC)


def test_the_window_begins_as_planned_or_at_the_minute_in_which_a_late_brief_comes() -> None:
    assert release_brief.window_begins(PLANNED, NOW, late=False) == PLANNED
    assert release_brief.window_begins(PLANNED, NOW, late=True) == datetime(2027, 1, 12, 12, 7, tzinfo=UTC)


@pytest.mark.parametrize(("state", "out", "reason"), [("drafting", None, "signup_first"), ("window", NOW, "step_over")])
def test_the_brief_is_released_by_hand_while_sign_up_is_open(state: State, out: datetime | None, reason: str) -> None:
    release_brief.check_may_release("signup", None)
    with pytest.raises(Refusal, match=reason):
        release_brief.check_may_release(state, out)
