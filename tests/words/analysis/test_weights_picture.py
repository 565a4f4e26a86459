"""The picture of the weights that keep the place."""

from bot.rules.analysis.robustness import firmness
from bot.words.analysis.weights_picture import weights_picture
from tests.words.scoring.test_standings_picture import judged, outcome


def test_with_two_events_a_bar_shows_which_weights_keep_the_place() -> None:
    book, found = judged([[4, 3], [2, 2]])
    picture = weights_picture(found, firmness(book, found.standings))
    assert picture is not None and "Squad 1: core" in picture.alt and "The plan gives core 50.0." in picture.alt


def test_with_three_events_a_triangle_shows_the_nearest_change() -> None:
    found = outcome([[100, 50, 50], [40, 100, 60]])
    picture = weights_picture(found, firmness(found.book, found.standings))
    assert picture is not None and "Nearest change" in picture.alt and "Plan: e1 40.0, e2 30.0, e3 30.0." in picture.alt


def test_a_tie_for_the_place_has_no_picture_of_weights() -> None:
    found = outcome([[50, 50], [50, 50]])
    assert weights_picture(found, firmness(found.book, found.standings)) is None
