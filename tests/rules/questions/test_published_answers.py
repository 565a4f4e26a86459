"""In which order published answers about the rules stand, and which have room on a list."""

from bot.rules.questions.published_answers import newest_first, newest_that_fit, oldest_first
from tests.rules.questions.test_coach_answers import answer


def test_the_newest_answers_come_first_and_stay_where_not_all_have_room() -> None:
    answers = [answer(number) for number in (1, 2, 3)]
    assert newest_first(answers) == answers[::-1] and oldest_first(answers[::-1]) == answers
    assert [newest_that_fit(answers, room, lambda one: 10) for room in (9, 10, 29, 30, 99)] == [0, 1, 2, 3, 3]
