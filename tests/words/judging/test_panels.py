"""A panel of many judges and squads is shown on several pages, and what stands in its way in one message."""

import pytest

from bot.rules.judging.compute_panel import Obstacle, describe
from bot.words.judging import (
    panels,
)
from storage.records.plan_measures import Rubric
from tests.words.judging.longest_sheets import EVENTS, JUDGES, SQUADS


@pytest.mark.parametrize("page", range(8))
def test_a_panel_of_25_judges_and_30_squads_is_shown_on_several_pages(page: int) -> None:
    seats = [(squad.id, judge.id) for squad in SQUADS for judge in JUDGES]
    found = describe([one.id for one in SQUADS], [one.id for one in JUDGES], seats)
    rubric = EVENTS[0].measures[0]
    assert isinstance(rubric, Rubric)
    panels.table((EVENTS[0], rubric), 25, (SQUADS, JUDGES), found, seats, page)
    panels.squad((EVENTS[0], rubric), SQUADS[0], JUDGES, [1, 2], [3])


@pytest.mark.parametrize("kind", [
    "no-squads", "no-judges", "few-judges", "squad-tied", "fixed-tied", "fixed-many", "judge-tied", "judge-full",
    "squads-short", "judges-short", "few-seats", "apart",
])  # fmt: skip
def test_every_obstacle_is_told_in_one_message_without_a_number_that_is_none(kind: str) -> None:
    names = {"squads": {one.id: one.name for one in SQUADS}, "judges": {one.id: one.name for one in JUDGES}}
    everyone = tuple(names["squads"]), tuple(names["judges"])
    message = panels.stuck(EVENTS[0], Obstacle(kind, *everyone, have=1, need=2), names)  # type: ignore[arg-type]
    assert "Why: " in message.text and "{" not in message.text
