"""Questions about the rules and their answers fit their messages, however long, and stay harmless."""

from datetime import UTC, datetime

import pytest

from bot.rules.questions.coach_answers import LONGEST_ANSWER, LONGEST_CHANGE
from bot.rules.questions.squad_asks import LONGEST
from bot.words.questions import coach_answers as clarifications
from bot.words.questions import published_answers, squad_asks
from storage.records.message import MESSAGE_LENGTH, Message, Select
from storage.records.questions import Clarification, ClarificationDraft, Question
from tests.words.invented import squad

AT = datetime(2027, 1, 12, 20, 0, tzinfo=UTC)
SQUAD = squad(1, "x" * 40)


def answer(number: int, question: str = "May we swap wheels?", text: str = "Yes.", version: int = 1) -> Clarification:
    change = "c" * LONGEST_CHANGE if version > 1 else ""
    return Clarification(
        tryout_id=1, number=number, version=version, question=question, answer=text, change=change, published_at=AT
    )


def asked(number: int, text: str = "May we swap wheels?") -> Question:
    return Question(id=number, tryout_id=1, squad_id=1, student_id=1, text=text, asked_at=AT)


LONGEST_PLAIN = answer(10**6, "q" * LONGEST, "a" * LONGEST_ANSWER, version=2)
DRAFT = ClarificationDraft(id=10**6, tryout_id=1, question_id=10**6, question="q", answer="a")


def labels(message: Message) -> list[str]:
    return [part.label for row in message.rows if isinstance(row, tuple) for part in row]


def test_the_form_says_who_reads_the_question_and_where_worries_go() -> None:
    field = squad_asks.ask_form().fields[0]
    assert field.hint == "Only coaches can read it. Later it is published with the answer, without your name."
    assert field.kind == "text" and (field.least, field.most) == (5, 300)
    assert "No names or private matters" in field.example and "adult you trust" in field.example


def test_the_longest_plain_answer_fits_news_and_the_question_before_it() -> None:
    assert clarifications.fits(LONGEST_PLAIN)
    assert published_answers.shown(LONGEST_PLAIN) in published_answers.in_news(LONGEST_PLAIN).text
    assert published_answers.shown(LONGEST_PLAIN) in clarifications.answer_sure(LONGEST_PLAIN, DRAFT, secret=True).text


def test_an_answer_that_markup_makes_too_long_is_told_apart() -> None:
    assert not clarifications.fits(answer(1, "q" * LONGEST, "*" * LONGEST_ANSWER))


def test_what_people_typed_is_shown_as_it_is() -> None:
    said = published_answers.in_news(answer(1, "Is **this** @everyone?", "```no")).text
    assert r"\*\*this\*\* \@everyone" in said and r"\`\`\`no" in said


@pytest.mark.parametrize("number", [1, 2, 3, 40])
def test_the_pinned_list_holds_every_answer_whole_or_one_line_each(number: int) -> None:
    found = published_answers.pinned([answer(one, text="a" * 700) for one in range(1, number + 1)])
    assert found is not None and labels(found) == ["All answers", "Ask about the rules"]
    whole = number <= 2
    for one in range(1, number + 1):
        assert f"**Rules question {one}**" in found.text if whole else f"**{one}** May we swap wheels?" in found.text


def test_a_list_that_is_too_long_for_one_message_names_the_newest_and_counts_the_rest() -> None:
    found = published_answers.pinned([answer(one, question="q" * LONGEST) for one in range(1, 101)])
    assert found is not None and len(found.text) <= MESSAGE_LENGTH
    assert "**100** qqq" in found.text and "**1** qqq" not in found.text
    lines = found.text.count("…")
    assert f"-# and {100 - lines} earlier ones" in found.text


def test_without_an_answer_there_is_no_list() -> None:
    assert published_answers.pinned([]) is None
    assert "No question about the rules" in published_answers.answers_page([], 0, 0).text


def test_all_answers_can_be_paged_through() -> None:
    answers = [answer(number, text="a" * LONGEST_ANSWER, version=2) for number in range(1, 31)]
    seen = ""
    for page in range(30):
        message = published_answers.answers_page(answers, page, 3)
        assert len(message.text) <= MESSAGE_LENGTH and "3 questions of your squad wait" in message.text
        seen += message.text
    assert all(published_answers.shown(one) in seen for one in answers)


def test_the_coachs_messages_fit_at_their_longest() -> None:
    worst = asked(10**6, "*" * LONGEST)
    answers = [answer(number, "*" * LONGEST, "*" * 500, version=2) for number in range(1, 61)]
    for message in (
        clarifications.waiting(worst, SQUAD, "N" * 80),
        clarifications.answer_opened(worst, SQUAD, "N" * 80),
        clarifications.answer_panel([(asked(number, "*" * LONGEST), SQUAD) for number in range(1, 61)], answers, 1),
        clarifications.pick_earlier(worst, answers, 1),
        clarifications.sure_to_merge(worst, answers[0], SQUAD, published_answers.answered_before(answers[0])),
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
