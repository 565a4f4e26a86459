"""A season in which everything goes wrong ends as the undisturbed one does."""

from collections.abc import Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from multiprocessing import get_context
from typing import Any

import pytest

from tests.season.seasons import Season, play_season, standings

pytestmark = pytest.mark.season
SEED = 4


@pytest.fixture(scope="module")
def undisturbed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Future[list[dict[str, Any]]]]:
    """The standings of the same season without trouble, played in a process of its own while the other one waits."""
    with ProcessPoolExecutor(1, get_context("spawn")) as beside:
        yield beside.submit(standings, tmp_path_factory.mktemp("undisturbed"), SEED)


@pytest.fixture(scope="module")
def troubled(undisturbed: Future[list[dict[str, Any]]], tmp_path_factory: pytest.TempPathFactory) -> Season:
    return play_season(tmp_path_factory.mktemp("troubled"), SEED, trouble=("all",), short=True)


def test_the_database_was_whole_after_each_of_many_power_cuts(troubled: Season) -> None:
    assert troubled.figures["kills"] >= 10
    assert troubled.checked == troubled.figures["kills"]


def test_with_all_troubles_and_power_cuts_nothing_is_lost_or_doubled(troubled: Season) -> None:
    figures = troubled.figures
    assert figures["lost"] == 0, figures["lost_what"]
    assert figures["doubled"] == 0, figures["doubled_what"]
    assert figures["reminders"]["doubled"] == 0, figures["reminders"]["doubled_what"]
    assert figures["broken"] == 0, figures["broken_what"]


def test_the_standings_are_those_of_the_undisturbed_season(
    troubled: Season, undisturbed: Future[list[dict[str, Any]]]
) -> None:
    assert troubled.figures["standings"] == undisturbed.result()


def test_everything_that_people_were_due_came_and_is_what_they_typed_makes(troubled: Season) -> None:
    assert troubled.oracle.complaints() == []
