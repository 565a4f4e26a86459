"""A class with more squads, students and questions than a list holds: pages are turned, and all comes out right."""

import asyncio

import pytest

from tests.season.kinds_played_elsewhere import IN_A_LARGE_CLASS
from tests.season.long_lists_season import ALONE, LargeClass, play

pytestmark = pytest.mark.season


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> LargeClass:
    return asyncio.run(play(tmp_path_factory.mktemp("large")))


def test_in_a_large_class_pages_are_turned_and_the_coach_presses_what_else_comes_up_there(season: LargeClass) -> None:
    assert IN_A_LARGE_CLASS - season.kinds == set()


def test_what_was_typed_in_one_line_is_kept_and_each_of_many_squads_reads_its_own_result(season: LargeClass) -> None:
    assert season.complaints() == []
    assert len(season.packet["squads"]) == 26


def test_who_is_looked_for_by_a_few_letters_is_suggested(season: LargeClass) -> None:
    assert ALONE in season.stage.facts["found"]


def test_the_names_of_a_try_out_that_is_put_away_can_be_erased_at_once(season: LargeClass) -> None:
    assert "are erased" in season.stage.facts["erased"]
