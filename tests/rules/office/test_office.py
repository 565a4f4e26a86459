"""What the main button of the office leads to, and which doors are shut."""

from dataclasses import replace

import pytest

from bot.rules.calendar.step_facts import Facts
from bot.rules.office.office import Way, main_way, shut_doors
from bot.rules.office.readiness import lacks
from tests.rules.calendar.ready_for_each_step import READY, SCHEDULE

AFTER = replace(READY, state="announced", protests_end=READY.now, places_given=True)


@pytest.mark.parametrize(
    ("facts", "way"),
    [
        (replace(READY, rooms=frozenset()), "choose-channels"),
        (replace(READY, state="drafting", now=SCHEDULE.brief), "set-dates"),
        (replace(READY, judges=0, judges_ready=0, alone=3), "enrol-judges"),
        (replace(READY, alone=3), "people"),
        (READY, "release-brief"),
        (replace(READY, state="window"), "ready-judges"),
        (replace(READY, state="settled"), "result"),
        (replace(AFTER, protests=1, places_given=False), "protests"),
        (replace(AFTER, places_given=False, feedback_left=2), "offer-place"),
        (replace(AFTER, feedback_left=2), "feedback"),
        (replace(AFTER, protests_end=SCHEDULE.deadline), "offers"),
        (AFTER, "put-away"),
    ],
)
def test_the_main_button_leads_to_the_next_step_or_to_what_comes_before_it(facts: Facts, way: Way) -> None:
    assert main_way(facts, lacks(facts)) == way


def test_doors_open_with_the_brief_where_there_is_something_behind_them() -> None:
    assert shut_doors(READY) == {"surprise", "practice", "event-day"}
    window = replace(READY, state="window", surprises=1)
    assert shut_doors(window) == (frozenset() if window.plan.practice else {"practice"})
    assert "surprise" in shut_doors(replace(window, surprises=0))
