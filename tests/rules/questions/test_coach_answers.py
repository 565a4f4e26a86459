"""When an answer about the rules can be given, how it is kept, and what it must not give away."""

from datetime import UTC, datetime

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.questions import coach_answers as rules
from storage.records.questions import Clarification
from tests.actions.conftest import small_plan


def answer(number: int, text: str = "Yes.") -> Clarification:
    return Clarification(
        tryout_id=1,
        number=number,
        version=1,
        question="May we use tape?",
        answer=text,
        change="",
        published_at=datetime(2027, 1, 12, tzinfo=UTC),
    )


def test_an_answer_is_given_once_sign_up_is_open_and_a_correction_changes_something() -> None:
    rules.check_may_answer("signup")
    rules.check_differs("May we use tape?", "No.", answer(1))
    rules.check_differs("May we use tape?", "Yes.", None)
    with pytest.raises(Refusal):
        rules.check_may_answer("drafting")
    with pytest.raises(Refusal):
        rules.check_differs("May we use tape?", "Yes.", answer(1))


def test_the_coach_is_warned_of_an_answer_that_names_a_surprise() -> None:
    secret = [event for event in small_plan().events if event.surprise]
    assert rules.names_a_secret(answer(1, f"As in the {secret[0].name.upper()}."), secret)
    assert not rules.names_a_secret(answer(1), secret) and not rules.names_a_secret(answer(1, secret[0].name), [])


def test_an_answer_keeps_its_lines_and_loses_empty_ones() -> None:
    assert rules.tidy_answer(" Yes, between attempts. \r\n\n\n Not during one. ") == (
        "Yes, between attempts.\nNot during one."
    )
    for typed in ("", " \n ", "x" * (rules.LONGEST_ANSWER + 1)):
        with pytest.raises(Refusal):
            rules.tidy_answer(typed)


def test_a_correction_says_what_it_changes() -> None:
    assert rules.tidy_change(" twice,\n not once ") == "twice, not once"
    with pytest.raises(Refusal):
        rules.tidy_change("  ")


def test_without_a_published_answer_there_is_none_to_merge_with() -> None:
    rules.check_any_published([answer(1)])
    with pytest.raises(Refusal, match="no_answers"):
        rules.check_any_published([])
