"""Who may ask about the rules, when, and how much at a time."""

from datetime import UTC, datetime

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.questions import squad_asks as rules
from storage.records.questions import Question
from storage.records.tryout import State


def waiting(*texts: str) -> list[Question]:
    at = datetime(2027, 1, 12, tzinfo=UTC)
    return [
        Question(id=number, tryout_id=1, squad_id=1, student_id=1, text=text, asked_at=at)
        for number, text in enumerate(texts, start=1)
    ]


@pytest.mark.parametrize(
    ("state", "reason"),
    [
        ("drafting", "questions_early"),
        ("signup", "questions_early"),
        ("window", ""),
        ("judging", ""),
        ("settled", "questions_over"),
        ("announced", "questions_over"),
        ("archived", "questions_over"),
    ],
)
def test_rules_are_asked_about_from_the_brief_until_judging_closes(state: State, reason: str) -> None:
    if not reason:
        rules.check_asking_open(state)
        return
    with pytest.raises(Refusal) as refused:
        rules.check_asking_open(state)
    assert refused.value.reason == reason


def test_the_fourth_question_of_a_squad_waits_for_an_answer_to_one_of_three() -> None:
    rules.check_may_ask(waiting("one", "two"))
    with pytest.raises(Refusal) as refused:
        rules.check_may_ask(waiting("one", "two", "three"))
    assert refused.value.reason == Reason.QUESTIONS_FULL


def test_the_same_words_do_not_wait_twice() -> None:
    rules.check_is_new("May we swap wheels?", waiting("May we swap socks?"))
    with pytest.raises(Refusal):
        rules.check_is_new("may we swap Wheels?", waiting("May we swap wheels?"))


def test_a_question_becomes_one_line_and_must_be_neither_too_short_nor_too_long() -> None:
    assert rules.tidy_question("  May we\n swap   wheels? ") == "May we swap wheels?"
    assert rules.tidy_question("x" * rules.LONGEST) == "x" * rules.LONGEST
    for typed in ("", "a  \n b", "x" * (rules.LONGEST + 1)):
        with pytest.raises(Refusal):
            rules.tidy_question(typed)
