"""The office as the coach reads it: one main button, which is the next thing to do."""

from dataclasses import replace
from datetime import timedelta

import pytest

from bot.rules.calendar.calendar import schedule
from bot.rules.office.readiness import NEXT, lacks
from bot.words.office.office import office_panel, status_line
from storage.records.day_plan import DayPlan
from storage.records.status_file import Heartbeat
from storage.records.tryout import STATES, State
from tests.rules.calendar.ready_for_each_step import PLAN, READY, SCHEDULE


@pytest.mark.parametrize("state", STATES)
def test_the_office_has_one_main_button_in_every_state(state: State) -> None:
    found = replace(READY, state=state)
    shown = office_panel(found, lacks(found))
    buttons = [part for row in shown.rows if isinstance(row, tuple) for part in row]
    assert [button.style for button in buttons].count("main") == 1
    assert (NEXT[state] is None) == (state == "archived")


ENDS = READY.now + timedelta(days=2)
DAY_PLAN = PLAN.model_copy(update={"event_day": DayPlan(dates=(READY.now.astimezone(SCHEDULE.zone).date(),))})


@pytest.mark.parametrize(
    ("facts", "label"),
    [
        ({"rooms": frozenset()}, "Choose the channels"),
        ({"judges": 0, "alone": 2}, "Judges"),
        ({"alone": 2}, "People"),
        ({"small": ("Odd Mittens",)}, "People"),
        ({}, "Release the brief now"),
        ({"state": "window"}, "Get the judges ready"),
        ({"state": "judging", "sheets": 9}, "Judges"),
        ({"state": "judging", "plan": DAY_PLAN, "schedule": schedule(DAY_PLAN)}, "Event day"),
        ({"state": "announced", "protests_end": ENDS, "protests": 1, "places_given": True}, "Decide the protests"),
        ({"state": "announced", "protests_end": ENDS, "feedback_left": 8}, "Offer the place"),
        ({"state": "announced", "protests_end": ENDS, "places_given": True, "feedback_left": 8}, "Feedback for squads"),
        ({"state": "announced", "protests_end": ENDS, "places_given": True}, "Offers"),
        ({"state": "announced", "protests_end": READY.now, "places_given": True}, "Put the try-out away"),
    ],
)
def test_the_main_button_is_the_next_thing_to_do(facts: dict[str, object], label: str) -> None:
    found = replace(READY, **facts)  # type: ignore[arg-type]
    shown = office_panel(found, lacks(found))
    buttons = [part for row in shown.rows if isinstance(row, tuple) for part in row]
    assert [button.label for button in buttons if button.style == "main"] == [label]
    assert len({button.key for button in buttons}) == len(buttons)
    if found.state == "signup":
        assert "Release the brief now" in {button.label for button in buttons} or label == "Choose the channels"


def test_the_office_says_when_little_room_is_left_on_the_disk() -> None:
    now = READY.now
    beat = Heartbeat(at=now, started_at=now, version="1.2", pid=7, free_bytes=10**8)
    assert "Little room" in status_line(beat)
    assert "Little room" not in status_line(beat.model_copy(update={"free_bytes": 5 * 10**9}))
