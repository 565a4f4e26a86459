"""Questions about the rules: who may ask when, how many at a time, and how long one may be."""

from collections.abc import Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.questions import Question
from storage.records.tryout import BEFORE_BRIEF, FROM_BRIEF_TO_CLOSE, State

SHORTEST, LONGEST = 5, 300
"""Characters of a question."""
MOST_WAITING = 3
"""Questions of one squad that may wait at a time, so that no squad fills the coach's office."""


def asking_is_open(state: State) -> bool:
    """Whether rules may be asked about: from the brief until judging closes."""
    return state in FROM_BRIEF_TO_CLOSE


def check_asking_open(state: State) -> None:
    """Rules may be asked about from the brief until judging closes.

    Raises:
        Refusal: `questions_early` or `questions_over`.
    """
    if not asking_is_open(state):
        raise Refusal(Reason.QUESTIONS_EARLY if state in BEFORE_BRIEF else Reason.QUESTIONS_OVER)


def check_may_ask(waiting: Sequence[Question]) -> None:
    """A squad with as many waiting questions as are allowed asks no more; `waiting` are this squad's.

    Raises:
        Refusal: `questions_full` (most).
    """
    if len(waiting) >= MOST_WAITING:
        raise Refusal(Reason.QUESTIONS_FULL, most=MOST_WAITING)


def check_is_new(text: str, waiting: Sequence[Question]) -> None:
    """A squad's question does not wait twice in the same words.

    Raises:
        Refusal: `question_waits`.
    """
    if any(text.casefold() == one.text.casefold() for one in waiting):
        raise Refusal(Reason.QUESTION_WAITS)


def tidy_question(typed: str) -> str:
    """A question as it is kept: one line, single spaces.

    Raises:
        Refusal: `question_length` (shortest, longest).
    """
    text = " ".join(typed.split())
    if not SHORTEST <= len(text) <= LONGEST:
        raise Refusal(Reason.QUESTION_LENGTH, shortest=SHORTEST, longest=LONGEST)
    return text
