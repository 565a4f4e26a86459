"""What the coach reads about how sure the winner is: never more than the numbers give, and alike on every screen."""

import re
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest

from bot.rules.analysis.agreement import agreements
from bot.rules.analysis.estimates import reach
from bot.rules.analysis.judge_profiles import judge_views
from bot.rules.analysis.judges_evened_out import evened, evened_standings
from bot.rules.analysis.placing_bootstrap import judge_bootstrap
from bot.rules.analysis.robustness import closeness, firmness
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.standings import standings
from bot.words.analysis.agreement import agreement_block
from bot.words.analysis.judges_evened_out import evened_block
from bot.words.analysis.placing_bootstrap import bootstrap_lines
from bot.words.analysis.robustness import closeness_line
from bot.words.analysis.robustness_picture import same_winner
from bot.words.analysis.single_changes import trial_line
from bot.words.analysis.weight_changes import effective_line
from bot.words.results.complete_result import Analysis, judges_line, sure_line, why_line
from bot.words.scoring.result_view import ResultView
from storage.records.scores import ScoreBook
from tests.rules.analysis.test_robustness import judged_book
from tests.rules.books import absence, counted_book, judges


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


def test_a_tie_for_the_place_has_no_same_winner() -> None:
    book = judged_book([[9, 9], [9, 9], [1, 1]])
    result = seen(book)
    assert same_winner(result, firmness(book, result.standings).trials).endswith("ways: the same tie")


@pytest.mark.parametrize("weights", [(1, 1, 1), (1, 2, 5), ("0.5", 1, "0.1")])
def test_a_judge_is_as_harsh_on_the_screen_as_in_the_packet(weights: Sequence[object]) -> None:
    book = judged_book([[9, 7, None], [4, None, 8], [None, 6, 5], [8, 8, 3]], panel="adjusted")
    book = book.model_copy(update={"judges": judges(*weights)})
    found = standings(book)
    effects = build(book, found).results.judge_effects
    assert {f"art.patch/{view.judge_number}": -view.severity for view in judge_views(found)} == effects


def test_a_median_is_not_said_to_be_free_of_harsh_judges() -> None:
    """All saw all; by the median squad 1 wins (9 against 8), by the mean squad 2 does (23/3 against 19/3)."""
    book = judged_book([[9, 9, 1], [8, 8, 7]], panel="median")
    result, found = seen(book), analysis(book)
    assert result.standings.placed == (1,)
    assert "**It may have mattered:** evened out, it would go to **Squad 2**." in judges_line(result, found)
    said = evened_block(result, found.evened, found.evened_standings)
    assert "the means stay the same" not in said
    assert "Every judge saw every squad, but the plan does not take the mean of them all." in said


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


def test_of_two_squads_no_share_in_the_differences_is_told() -> None:
    two = counted_book([[90, 10], [30, 60]], [1, 1])
    assert effective_line(seen(two), firmness(two, standings(two))) == ""
    three = counted_book([[90, 10], [30, 60], [20, 20]], ["62.5", "37.5"])
    # By hand: cov(e1, total) / var(total) = 861.98 / 801.04.
    said = effective_line(seen(three), firmness(three, standings(three)))
    assert "e1 108 % (weight 62.5) and e2 -8 % (weight 37.5)" in said


def test_a_word_about_agreement_is_called_uncertain_wherever_its_interval_is_wide() -> None:
    """Six squads, three judges: alpha is 0.67, and draws of the squads leave it between 0.04 and 0.83."""
    book = judged_book([[9, 8, 9], [5, 7, 6], [7, 5, 6], [3, 5, 4], [6, 4, 6], [8, 8, 6]])
    result = seen(book)
    found = replace(analysis(book), agreements=agreements(result.standings))
    assert judges_line(result, found).startswith(
        "**Do the judges agree?** Fairly well (uncertain, with so few squads)."
    )
    said = agreement_block(result, found.agreements[0])
    assert "The judges agree fairly well. With so few squads that is uncertain." in said


@pytest.mark.parametrize(("freedom", "t"), [(1, 12.706), (2, 4.303), (4, 2.776), (10, 2.228), (30, 2.042)])
def test_intervals_reach_as_far_as_students_table_says(freedom: int, t: float) -> None:
    """Student's t, two-sided 5 %: the table of any handbook of statistics (from memory)."""
    assert reach(2.0, freedom) == pytest.approx(2 * t, rel=2e-4)


def test_intervals_hold_the_true_gap_as_often_as_they_say() -> None:
    """Two judges, three squads, so two degrees of freedom: 600 drawn panels, 95 % give or take 2.7 (three errors)."""
    chance = np.random.default_rng(5)
    inside = 0
    for _ in range(600):
        inside += _holds(20 + np.array([[6], [3], [0]]) + chance.normal(0, 1, (3, 2)))
    assert abs(inside / 600 - 0.95) < 0.027


def _holds(marks: "np.ndarray[tuple[int, ...], np.dtype[np.float64]]") -> bool:
    from bot.rules.analysis.standard_errors import precision
    from bot.rules.scoring.severity_model import Observation, fit

    sheets = [
        Observation(squad, judge, Fraction(Decimal(repr(round(float(value), 6)))))
        for squad, row in enumerate(marks)
        for judge, value in enumerate(row)
    ]
    fitted = fit(sheets)
    found = precision(sheets, fitted)
    assert found is not None
    error = found.difference(0, 1)
    assert error is not None
    return abs(float(fitted.adjusted[0] - fitted.adjusted[1]) - 3) <= reach(error, fitted.freedom)


@pytest.mark.parametrize(("places", "said"), [(1, "the winner stays"), (2, "the winners stay")])
def test_two_winners_are_not_called_one(places: int, said: str) -> None:
    book = judged_book([[9, 8, None], [None, 7, 6], [5, None, 3]])
    book = book.model_copy(update={"plan": book.plan.model_copy(update={"places": places})})
    assert f"evened out, {said}." in judges_line(seen(book), analysis(book))
