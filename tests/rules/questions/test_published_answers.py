"""In which order published answers about the rules stand."""

from bot.rules.questions.published_answers import newest_first, oldest_first
from tests.rules.questions.test_coach_answers import answer


def test_the_newest_answers_come_first_to_pick_from_and_last_to_read() -> None:
    answers = [answer(number) for number in (1, 2, 3)]
    assert newest_first(answers) == answers[::-1] and oldest_first(answers[::-1]) == answers
