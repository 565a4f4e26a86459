"""The published answers about the rules fit news and the pinned list and are shown as they were typed."""

from datetime import UTC, datetime

import pytest

from bot.rules.questions.coach_answers import LONGEST_ANSWER, LONGEST_CHANGE
from bot.rules.questions.squad_asks import LONGEST
from bot.words.questions import published_answers
from storage.records.message import MESSAGE_LENGTH, Message
from storage.records.questions import Clarification

AT = datetime(2027, 1, 12, 20, 0, tzinfo=UTC)


def answer(number: int, question: str = "May we swap wheels?", text: str = "Yes.", version: int = 1) -> Clarification:
    change = "c" * LONGEST_CHANGE if version > 1 else ""
    return Clarification(
        tryout_id=1, number=number, version=version, question=question, answer=text, change=change, published_at=AT
    )


def labels(message: Message) -> list[str]:
    return [part.label for row in message.rows if isinstance(row, tuple) for part in row]


def test_what_people_typed_is_shown_as_it_is() -> None:
    said = published_answers.in_news(answer(1, "Is **this** @everyone?", "```no")).text
    assert r"\*\*this\*\* \@everyone" in said and r"\`\`\`no" in said


@pytest.mark.parametrize("number", [1, 2, 3, 40])
def test_the_pinned_list_holds_every_answer_whole_or_one_line_each(number: int) -> None:
    found = published_answers.pinned([answer(one, text="a" * 700) for one in range(1, number + 1)], True)
    assert found is not None and labels(found) == ["All answers", "Ask about the rules"]
    whole = number <= 2
    for one in range(1, number + 1):
        assert f"**Rules question {one}**" in found.text if whole else f"**{one}** May we swap wheels?" in found.text


def test_a_list_that_is_too_long_for_one_message_names_the_newest_and_counts_the_rest() -> None:
    found = published_answers.pinned([answer(one, question="q" * LONGEST) for one in range(1, 101)], True)
    assert found is not None and len(found.text) <= MESSAGE_LENGTH
    assert "**100** qqq" in found.text and "**1** qqq" not in found.text
    lines = found.text.count("…")
    assert f"-# and {100 - lines} earlier ones" in found.text


def test_once_judging_is_closed_nobody_is_led_to_ask() -> None:
    found = published_answers.pinned([answer(1)], False)
    assert found is not None and labels(found) == ["All answers"]


def test_without_an_answer_there_is_no_list() -> None:
    assert published_answers.pinned([], True) is None
    assert "No question about the rules" in published_answers.answers_page([], 0, 0).text


def test_all_answers_can_be_paged_through() -> None:
    answers = [answer(number, text="a" * LONGEST_ANSWER, version=2) for number in range(1, 31)]
    seen = ""
    for page in range(30):
        message = published_answers.answers_page(answers, page, 3)
        assert len(message.text) <= MESSAGE_LENGTH and "3 questions of your squad wait" in message.text
        seen += message.text
    assert all(published_answers.shown(one) in seen for one in answers)
