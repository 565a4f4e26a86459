"""An answer to a question about the rules: how long it, and what a correction of it changes, may be."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason

LONGEST_ANSWER = 1000
LONGEST_CHANGE = 200


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
