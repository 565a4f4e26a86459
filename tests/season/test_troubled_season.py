"""A season in which everything goes wrong ends as the undisturbed one does, which is the same each time."""

from collections.abc import Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from multiprocessing import get_context

import pytest

from tests.season.played_season import Outcome, Season, play_season, undisturbed_outcome

pytestmark = pytest.mark.season
SEED = 4


@pytest.fixture(scope="module")
def undisturbed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[Future[Outcome]]]:
    """The same season without trouble, played twice in a process of its own while the troubled one waits."""
    with ProcessPoolExecutor(1, get_context("spawn")) as beside:
        folders = [tmp_path_factory.mktemp(name) for name in ("undisturbed", "again")]
        yield [beside.submit(undisturbed_outcome, folder, SEED) for folder in folders]


@pytest.fixture(scope="module")
def troubled(undisturbed: list[Future[Outcome]], tmp_path_factory: pytest.TempPathFactory) -> Season:
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
    troubled: Season, undisturbed: list[Future[Outcome]]
) -> None:
    assert troubled.figures["standings"] == undisturbed[0].result().standings


def test_a_seed_gives_one_transcript_and_one_page_byte_for_byte(undisturbed: list[Future[Outcome]]) -> None:
    once, again = (played.result() for played in undisturbed)
    assert once.transcript == again.transcript
    assert once.page == again.page


def test_everything_that_people_were_due_came_and_is_what_they_typed_makes(troubled: Season) -> None:
    assert troubled.oracle.complaints() == []
