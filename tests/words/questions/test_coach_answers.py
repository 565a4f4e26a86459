"""Questions about the rules as the coach sees them, and answers before they are said, fit their messages."""

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.questions.coach_answers import LONGEST_ANSWER, check_fits
from bot.rules.questions.squad_asks import LONGEST
from bot.words.questions import coach_answers as clarifications
from bot.words.questions import published_answers
from storage.records.message import MESSAGE_LENGTH, Select
from storage.records.questions import ClarificationDraft, Question
from tests.words.invented import squad
from tests.words.questions.test_published_answers import AT, answer

SQUAD = squad(1, "x" * 40)


def asked(number: int, text: str = "May we swap wheels?") -> Question:
    return Question(id=number, tryout_id=1, squad_id=1, student_id=1, text=text, asked_at=AT)


LONGEST_PLAIN = answer(10**6, "q" * LONGEST, "a" * LONGEST_ANSWER, version=2)
DRAFT = ClarificationDraft(id=10**6, tryout_id=1, question_id=10**6, question="q", answer="a")


def test_the_longest_plain_answer_fits_news_and_the_question_before_it() -> None:
    check_fits(published_answers.shown(LONGEST_PLAIN))
    assert published_answers.shown(LONGEST_PLAIN) in published_answers.in_news(LONGEST_PLAIN).text
    assert published_answers.shown(LONGEST_PLAIN) in clarifications.answer_sure(LONGEST_PLAIN, DRAFT, secret=True).text


def test_an_answer_that_markup_makes_too_long_is_told_apart() -> None:
    with pytest.raises(Refusal, match="answer_room"):
        check_fits(published_answers.shown(answer(1, "q" * LONGEST, "*" * LONGEST_ANSWER)))


def test_the_coachs_messages_fit_at_their_longest() -> None:
    worst = asked(10**6, "*" * LONGEST)
    answers = [answer(number, "*" * LONGEST, "*" * 500, version=2) for number in range(1, 61)]
    for message in (
        clarifications.waiting(worst, SQUAD, "N" * 80),
        clarifications.answer_opened(worst, SQUAD, "N" * 80),
        clarifications.answer_panel([(asked(number, "*" * LONGEST), SQUAD) for number in range(1, 61)], answers, 1),
        clarifications.pick_earlier(worst, answers, 1),
        clarifications.sure_to_merge(worst, answers[0], SQUAD, clarifications.answered_before(answers[0])),
        clarifications.sure_to_set_aside(worst, SQUAD, "N" * 80),
    ):
        assert len(message.text) <= MESSAGE_LENGTH


def test_the_panel_lists_the_oldest_questions_and_the_newest_answers_first() -> None:
    panel = clarifications.answer_panel(
        [(asked(number), SQUAD) for number in range(1, 31)], [answer(number) for number in range(1, 31)], 0
    )
    questions_list, answers_list = (row for row in panel.rows if isinstance(row, Select))
    assert [choice.value for choice in questions_list.choices] == [str(number) for number in range(1, 26)]
    assert [choice.value for choice in answers_list.choices] == [str(number) for number in range(30, 5, -1)]
    assert "30 questions wait" in panel.text and "oldest 25" in panel.text


def test_nothing_that_everyone_reads_names_who_asked() -> None:
    settled = clarifications.settled(asked(1).model_copy(update={"number": 2, "state": "answered"}), SQUAD)
    assert "Rules question 2" in settled.text
    assert "x" * 40 not in published_answers.in_news(answer(2)).text
