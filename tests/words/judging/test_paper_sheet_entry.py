"""What is said of a paper sheet that was typed in is what was done."""

from bot.words.judging.paper_sheet_entry import paper_entry_saved, typed_in
from tests.words.judging.longest_sheets import JUDGES, MINE


def test_a_sheet_that_was_settled_is_not_one_on_which_both_agree() -> None:
    said = [paper_entry_saved(MINE[0], JUDGES[0], settled).text.split(".")[0] for settled in (False, True)]
    assert said == ["Both entries agree", "Settled from the paper"]


def test_the_office_reads_that_the_judge_was_told_only_where_that_is_so() -> None:
    said = [typed_in(MINE[0], JUDGES[0], told).text.endswith("The judge has been told.") for told in (True, False)]
    assert said == [True, False]
