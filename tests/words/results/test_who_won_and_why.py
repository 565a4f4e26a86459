"""What the coach reads about how sure the winner is: never more than the numbers give, and alike on every screen."""

import re

import pytest

from bot.rules.analysis.agreement import agreements
from bot.rules.analysis.judge_profiles import judge_views
from bot.rules.analysis.judges_evened_out import evened, evened_standings
from bot.rules.analysis.robustness import closeness, firmness
from bot.rules.scoring.standings import standings
from bot.words.analysis.robustness import closeness_line
from bot.words.results.who_won_and_why import Analysis, judges_line, sure_line, why_line
from bot.words.scoring.result_view import ResultView
from storage.records.scores import ScoreBook
from tests.rules.analysis.test_robustness import judged_book
from tests.rules.books import absence, counted_book


def seen(book: ScoreBook) -> ResultView:
    return ResultView(book, standings(book))


def sure(book: ScoreBook) -> str:
    result = seen(book)
    return sure_line(result, firmness(book, result.standings))


def analysis(book: ScoreBook) -> Analysis:
    found = standings(book)
    firm = firmness(book, found)
    return Analysis(firm, agreements(found, resamples=0), judge_views(found), evened(found), evened_standings(book))


def gap_book(gap: int) -> ScoreBook:
    """Squad 1 leads squad 2 by `gap` sheet points in the mean; of three squads and three judges the scatter is one."""
    noise = [[1, -1, 0], [-1, 1, 0], [0, 0, 0]]
    means = [20 + gap, 20, 10]
    return judged_book([[mean + off for off in row] for mean, row in zip(means, noise, strict=True)])


def test_very_sure_is_said_only_of_a_gap_beyond_chance() -> None:
    """By hand: residual variance 4/4 = 1 on 4 degrees of freedom, so the gap's error is root(2/3) = 0.816 sheet points,
    and with t = 2.776 (Student's table) its interval reaches 2.27: a gap of 2 is within, one of 3 beyond."""
    for gap, word in ((0, "open"), (1, "fairly"), (2, "fairly"), (3, "very")):
        assert sure(gap_book(gap)).startswith(f"**How sure:** {word}"), gap
    found = closeness(gap_book(2).plan, standings(gap_book(2)))
    assert found is not None
    assert found.error == pytest.approx((2 / 3) ** 0.5 * 100 / 40)
    assert found.reach == pytest.approx(2.776 * (2 / 3) ** 0.5 * 100 / 40, rel=1e-3)
    assert (found.close, found.clear) == (False, False)


def test_the_gap_and_what_chance_does_to_it_are_the_same_on_both_screens() -> None:
    book = gap_book(2)
    result = seen(book)
    firm = firmness(book, result.standings)
    said = "5.0 points, give or take 5.7 for chance in the judges' marks (95 % level)."
    assert said in sure_line(result, firm)
    assert "5.0 points ahead of **Squad 2**, give or take 5.7 for chance" in closeness_line(result, firm)
    assert "chance alone could still turn it" in closeness_line(result, firm)


def test_a_single_judge_makes_nobody_very_sure() -> None:
    text = sure(judged_book([[30], [20], [10]]))
    assert text.startswith("**How sure:** fairly")
    assert "any one judge" not in text
    assert "For 1 other way it cannot be told." in text
    assert "How far chance in the judges' marks moves the gap cannot be told." in text


def test_equal_totals_without_judges_are_not_said_to_be_closer_than_judges_differ() -> None:
    book = counted_book([[9, 5], [5, 9]], [1, 1])
    parted = book.model_copy(update={"plan": book.plan.model_copy(update={"tie_breaks": ("e1",)})})
    assert sure(parted).startswith("**How sure:** not very; the two have the same total.")
    assert "judge" not in sure(parted)


def test_a_tiny_move_of_weights_is_never_said_to_be_none() -> None:
    text = sure(counted_book([[10000, 10], [11, 9998]], [1, 1]))
    assert "Moving less than 0.1 of the 100 points of weight" in text


def test_what_chance_could_do_is_said_beside_the_hardest_judge() -> None:
    book = judged_book([[9, 8, 7], [4, 6, 5], [6, 5, 8]])
    assert "than the average judge (which chance alone could do)." in judges_line(seen(book), analysis(book))
    clear = judged_book([[19, 9, 9], [14, 5, 4], [16, 6, 6]])
    assert "than the average judge. It did" in judges_line(seen(clear), analysis(clear))


def test_what_each_event_gives_adds_up_to_the_lead_also_where_one_was_excused() -> None:
    """Squad 1: (2 x 90 + 5) / 3 = 61.7; squad 2: (2 x 30 + 60 + 40) / 4 = 40, of which e2 gives 15."""
    book = counted_book([[90, 10, 5], [30, 60, 40], [10, 20, 90]], [2, 1, 1])
    book = book.model_copy(update={"absences": (absence(1, "e2", True),)})
    said = why_line(seen(book))
    assert said.endswith("+45.0 in e1; -15.0 in e2 (one of the two was excused); -8.3 in e3 (points of 100).")
    lead = sum(float(one) for one in re.findall(r"[+-]\d+\.\d", said))
    assert lead == pytest.approx(61.67 - 40, abs=0.15)


@pytest.mark.parametrize(("places", "said"), [(1, "the winner stays"), (2, "the winners stay")])
def test_two_winners_are_not_called_one(places: int, said: str) -> None:
    book = judged_book([[9, 8, None], [None, 7, 6], [5, None, 3]])
    book = book.model_copy(update={"plan": book.plan.model_copy(update={"places": places})})
    assert f"evened out, {said}." in judges_line(seen(book), analysis(book))


@pytest.mark.parametrize("sheets", [[[30], [20], [10]], [[9, None], [None, 3], [5, 5]], [[9, None], [None, 3]]])
def test_nobody_is_said_to_mark_like_the_rest_whom_nobody_can_compare(sheets: list[list[int | None]]) -> None:
    book = judged_book(sheets)
    said = judges_line(seen(book), analysis(book))
    assert "Too few squads in common to tell who marks harder or softer." in said
    assert "None of them" not in said and "average judge" not in said


def test_judges_who_can_be_compared_and_mark_alike_are_said_to() -> None:
    book = judged_book([[9, 9], [5, 5], [7, 7]])
    assert judges_line(seen(book), analysis(book)).endswith("None of them marks harder or softer than the rest.")
    book = judged_book([[9, 9, None], [5, 5, None], [7, 7, None], [None, None, 4]])
    assert "None of those who can be compared marks harder" in judges_line(seen(book), analysis(book))
