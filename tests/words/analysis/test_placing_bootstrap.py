"""What is said of other draws of the judges, held against draws made one by one."""

from decimal import Decimal

from hypothesis import given

from bot.rules.analysis.placing_bootstrap import judge_bootstrap
from bot.rules.analysis.robustness import firmness
from bot.rules.scoring.standings import standings
from bot.words.analysis.placing_bootstrap import bootstrap_lines
from bot.words.analysis.single_changes import trial_line
from bot.words.core.number_text import percent
from storage.records.scores import ScoreBook
from tests.rules.analysis.test_placing_bootstrap import draws_one_by_one, marking
from tests.rules.analysis.test_robustness import judged_book
from tests.words.analysis.test_robustness import TRIES, panels, seen


@TRIES
@given(panels())
def test_what_is_said_of_drawn_judges_is_true_of_draws_made_one_by_one(book: ScoreBook) -> None:
    result = seen(book)
    if not result.standings.rows or not result.standings.complete:
        return
    said = bootstrap_lines(result, judge_bootstrap(book))
    if len(marking(book)) < 2:
        assert said == "With fewer than two judges there is no other draw of them to try."
        return
    share, usable = draws_one_by_one(book)
    if not usable:
        assert said.startswith("No other draw of the same judges gives every squad a judge")
        return
    for squad, part in share.items():
        assert (f"Squad {squad} {percent(part)}" in said) == (part > 0)
    assert ("Not counted are" in said) == (usable < 1)


def test_more_judges_than_can_be_gone_through_are_drawn_and_it_says_how_sure_that_is() -> None:
    book = judged_book([[9, 8, 9, 3, 4, 8, 9], [8, 9, 8, 9, 9, 4, 4]])
    said = bootstrap_lines(seen(book), judge_bootstrap(book))
    assert "These are 500 draws, so a share may be off by up to 5 points (95 % level)." in said
    assert "about" in said


def test_shares_of_the_draws_add_up_with_those_in_which_nobody_reaches_the_minimum() -> None:
    """All 27 draws of three judges by hand: the mean of squad 1 is below 18.4 sheet points (46 of 100) in 4 of them."""
    book = judged_book([[19, 18, 20], [15, 16, 18], [9, 9, 8]])
    some, none = (
        book.model_copy(update={"plan": book.plan.model_copy(update={"qualify": Decimal(least)})}) for least in (46, 90)
    )
    assert bootstrap_lines(seen(some), judge_bootstrap(some)).endswith("Squad 1 about 85 %, nobody about 15 %.")
    assert bootstrap_lines(seen(none), judge_bootstrap(none)).endswith("would go to: nobody 100 %.")
    firm = firmness(none, standings(none))
    assert "Without any one of the 3 judges nobody holds a place either." in trial_line(seen(none), firm, "judge")
