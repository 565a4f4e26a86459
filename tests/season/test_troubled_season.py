"""A season in which everything goes wrong ends as the undisturbed one does."""

from pathlib import Path

import pytest

from tests.season.seasons import Season, play_season

pytestmark = pytest.mark.season


@pytest.fixture(scope="module")
def troubled(tmp_path_factory: pytest.TempPathFactory) -> Season:
    return play_season(tmp_path_factory.mktemp("troubled"), seed=4, trouble=("all",), short=True)


def test_the_database_was_whole_after_each_of_many_power_cuts(troubled: Season) -> None:
    assert troubled.figures["kills"] >= 5
    assert troubled.checked == troubled.figures["kills"]


def test_with_all_troubles_and_power_cuts_nothing_is_lost_or_doubled(troubled: Season) -> None:
    figures = troubled.figures
    assert figures["lost"] == 0, figures["lost_what"]
    assert figures["doubled"] == 0, figures["doubled_what"]
    assert figures["reminders"]["doubled"] == 0
    assert figures["broken"] == 0, figures["broken_what"]


def test_the_standings_are_those_of_the_undisturbed_season(troubled: Season, tmp_path: Path) -> None:
    undisturbed = play_season(tmp_path, seed=4, short=True)
    assert troubled.figures["standings"] == undisturbed.figures["standings"]


def test_everything_that_people_were_due_came_and_is_what_they_typed_makes(troubled: Season) -> None:
    assert troubled.oracle.complaints() == []
