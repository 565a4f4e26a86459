"""What is said of other draws of the judges, held against draws made one by one."""

from hypothesis import given

from bot.rules.analysis.placing_bootstrap import judge_bootstrap
from bot.words.analysis.placing_bootstrap import bootstrap_lines
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
