"""How far judges agree, in words: levels of intervals, errors of probabilities, how many judges it would take."""

from dataclasses import replace

from bot.rules.analysis.agreement import agreements
from bot.rules.analysis.kendall_w import Chance
from bot.rules.scoring.standings import standings
from bot.words.analysis.agreement import _by_chance, agreement_block
from bot.words.results.who_won_and_why import judges_line
from bot.words.scoring.result_view import ResultView
from storage.records.scores import ScoreBook
from tests.rules.analysis.test_robustness import judged_book
from tests.rules.reference import reference
from tests.rules.tryouts import random_tryout
from tests.words.results.test_who_won_and_why import analysis, seen


def block(book: ScoreBook) -> str:
    result = standings(book)
    return agreement_block(ResultView(book, result), agreements(result, resamples=200)[0])


def test_every_interval_names_its_level_and_the_judges_needed_are_told() -> None:
    """Reference A4 (Shrout and Fleiss 1979): one judge has 0.29, so ten are needed (A12)."""
    said = block(judged_book(reference("A4")["input"]["table"]))
    assert (
        "one judge alone 0.29 (95 % interval 0.02 to 0.76), their mean 0.62 (95 % interval 0.07 to 0.93) (ICC)" in said
    )
    assert "For a mean of reliability 0.8 it would take about 10 judges who agree like these." in said


def test_a_probability_that_was_drawn_says_how_far_off_it_may_be() -> None:
    assert " at the 95 % level)" in block(random_tryout())


def test_a_drawn_probability_is_called_less_than_one_in_a_hundred_only_where_that_is_sure() -> None:
    """1 999 draws: 0.95 % is off by up to 0.4 at the 95 % level, so that 1 % is not excluded; 0.4 % is off by 0.3."""
    for p, exact, said in (
        (0.0095, False, "1 %, give or take 0.4 at the 95 % level"),
        (0.004, False, "less than 1 %"),
        (0.0095, True, "less than 1 %"),
        (0.25, True, "25 %"),
    ):
        error = 0.0 if exact else (p * (1 - p) / 1999) ** 0.5
        assert _by_chance(Chance(p, exact, error)) == said


def test_judges_who_agree_are_enough() -> None:
    said = block(judged_book([[9, 9, 8], [5, 5, 5], [4, 3, 4], [7, 7, 7], [2, 1, 2], [12, 12, 11]]))
    assert "For a mean of reliability 0.8, 1 judge would be enough." in said


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
