"""Until when judges are enrolled, let go, counted or only shown."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.judging.judges_admin import asked_in_news, check_is_person, check_may_change, number_of
from storage.records.request import Person
from tests.words.judging.longest_sheets import JUDGES, NOW


def test_whose_marks_count_is_settled_once_totals_can_be_read() -> None:
    check_may_change(totals_hidden=True, result_stands=False)
    for hidden, stands, reason in ((False, False, "judges_fixed"), (False, True, "judging_over")):
        with pytest.raises(Refusal, match=reason):
            check_may_change(hidden, stands)


def test_who_comes_back_and_has_agreed_before_is_not_asked_again() -> None:
    agreed = JUDGES[0].model_copy(update={"opted_in_at": NOW})
    assert asked_in_news([agreed, *JUDGES[1:3]]) == list(JUDGES[1:3])


def test_no_program_judges() -> None:
    check_is_person(Person(id=1, name="Kim"))
    with pytest.raises(Refusal, match="judge_is_program"):
        check_is_person(Person(id=1, name="Kim", program=True))


def test_who_comes_back_has_the_old_number_and_nobody_gets_anothers() -> None:
    assert number_of(JUDGES[1], 25) == JUDGES[1].number
    assert number_of(None, 25) == 26
