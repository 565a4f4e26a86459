"""A season in which everything goes wrong ends as the undisturbed one does."""

from pathlib import Path

import pytest

from tests.season.seasons import play_season

pytestmark = pytest.mark.season


@pytest.fixture(scope="module")
def undisturbed(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, object]]:
    calm = play_season(tmp_path_factory.mktemp("calm"), seed=4, short=True)
    return list(calm.figures["standings"])


def test_with_all_troubles_and_power_cuts_nothing_is_lost_doubled_or_different(
    undisturbed: list[dict[str, object]], tmp_path: Path
) -> None:
    season = play_season(tmp_path, seed=4, trouble=("all",), short=True)
    figures = season.figures
    assert figures["kills"] >= 5
    assert season.checked == figures["kills"]
    assert figures["lost"] == 0, figures["lost_what"]
    assert figures["doubled"] == 0, figures["doubled_what"]
    assert figures["reminders"]["doubled"] == 0
    assert figures["standings"] == undisturbed
    assert season.oracle.complaints() == []
