"""An answer to a question about the rules: when it can be given, how long it may be, whether it gives a secret away."""

from collections.abc import Iterable, Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.message import MESSAGE_LENGTH
from storage.records.people import Squad
from storage.records.plan import Event
from storage.records.questions import Clarification, Question
from storage.records.tryout import State

LONGEST_ANSWER = 1000
"""Characters of an answer; `LONGEST_CHANGE`: of what a correction says that it changes."""
LONGEST_CHANGE = 200
ROOM_TO_ASK = 200
"""Characters that the question before an answer is published takes beside the answer itself."""


def tidy_answer(typed: str) -> str:
    """An answer as it is kept: lines without blanks at their ends, no empty lines.

    Raises:
        Refusal: `answer_length` (longest).
    """
    text = "\n".join(line.strip() for line in typed.splitlines() if line.strip())
    if not 1 <= len(text) <= LONGEST_ANSWER:
        raise Refusal(Reason.ANSWER_LENGTH, longest=LONGEST_ANSWER)
    return text


def tidy_change(typed: str) -> str:
    """What a correction changes, as it is kept: one line.

    Raises:
        Refusal: `change_needed`.
    """
    text = " ".join(typed.split())[:LONGEST_CHANGE]
    if not text:
        raise Refusal(Reason.CHANGE_NEEDED)
    return text


def check_fits(shown: str) -> None:
    """An answer, as it is shown with its question, and the question before it is published stand in one message.

    Raises:
        Refusal: `answer_room`.
    """
    if len(shown) > MESSAGE_LENGTH - ROOM_TO_ASK:
        raise Refusal(Reason.ANSWER_ROOM)


def check_waits(question: Question) -> None:
    """A question is answered, merged or set aside once. Raises Refusal `question_settled`."""
    if question.state != "open":
        raise Refusal(Reason.QUESTION_SETTLED)


def waiting_longest_first(waiting: Sequence[tuple[Question, Squad]]) -> list[tuple[Question, Squad]]:
    """Questions as the coach picks one to answer: who has waited longest comes first."""
    return sorted(waiting, key=lambda one: one[0].id)


def check_any_published(answers: Sequence[Clarification]) -> None:
    """A question is merged with an answer that was published. Raises Refusal `no_answers` where there is none."""
    if not answers:
        raise Refusal(Reason.NO_ANSWERS)


def squad_is_told(squad: Squad) -> bool:
    """Whether the room of a squad reads that its question has been answered before: of one that takes part."""
    return not squad.withdrawn


def check_may_answer(state: State) -> None:
    """Nothing is answered before sign-up is open: nobody is there to read it. Raises Refusal `questions_early`."""
    if state == "drafting":
        raise Refusal(Reason.QUESTIONS_EARLY)


def check_differs(question: str, answer: str, before: Clarification | None) -> None:
    """A correction changes something of the answer `before`. Raises Refusal `answer_same`."""
    if before is not None and (question, answer) == (before.question, before.answer):
        raise Refusal(Reason.ANSWER_SAME)


def names_a_secret(one: Clarification, secrets: Iterable[Event]) -> bool:
    """Whether an answer names a surprise that has not started: the coach is warned, and may say it all the same."""
    said = f"{one.question}\n{one.answer}\n{one.change}".casefold()
    return any(event.name.casefold() in said for event in secrets)
