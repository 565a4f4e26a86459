"""What the brief needs, when it can be released, and at which minute the days to the deadline begin."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from bot.rules.calendar import release_brief
from bot.rules.core.refusal import Refusal
from storage.records.tryout import State
from tests.rules.calendar.ready_for_each_step import READY, kinds

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


@pytest.mark.parametrize(
    ("lacking", "kind", "blocks"),
    [
        ({"rooms": frozenset()}, "rooms", True),
        ({"squads": 0}, "no_squads", True),
        ({"small": ("Muddy Teapots",)}, "small", False),
        ({"waits": ("Muddy Teapots",)}, "waits", False),
        ({"alone": 3}, "alone", False),
        ({"judges": 0, "judges_ready": 0}, "no_judges", False),
        ({"judges_ready": 2}, "judges_wait", False),
    ],
)
def test_the_brief_needs_channels_and_squads_and_the_rest_is_worth_knowing(
    lacking: dict[str, object], kind: str, blocks: bool
) -> None:
    assert kinds(release_brief.lacks(replace(READY, **lacking))) == [(kind, blocks)]  # type: ignore[arg-type]


def test_a_plan_without_rubrics_needs_no_judges() -> None:
    assert kinds(release_brief.lacks(replace(READY, judged=False, judges=0, judges_ready=0))) == []
