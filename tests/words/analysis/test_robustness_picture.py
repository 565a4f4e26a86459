"""The picture of how firm the place is, and the words that say the same."""

from bot.rules.analysis.placing_bootstrap import judge_bootstrap
from bot.rules.analysis.robustness import firmness
from bot.words.analysis.robustness_picture import firm_picture, same_winner
from tests.rules.analysis.test_robustness import judged_book
from tests.words.analysis.test_robustness import seen
from tests.words.scoring.test_standings_picture import judged


def test_a_tie_for_the_place_has_no_same_winner() -> None:
    book = judged_book([[9, 9], [9, 9], [1, 1]])
    result = seen(book)
    assert same_winner(result, firmness(book, result.standings).trials).endswith("ways: the same tie")


def test_the_picture_of_firmness_says_who_would_hold_the_place_without_each_judge() -> None:
    book, found = judged([[4, 2], [3, 3]])
    firm = firmness(book, found.standings)
    alt = firm_picture(found, firm, judge_bootstrap(book)).alt
    assert "Without one judge: Squad 2 (judge 1); Squad 1 (judge 2)." in alt
    assert "Other draws of the judges: Squad" in alt
