"""The signs that posted messages begin with, one for each kind, so that a phone full of messages can be skimmed.

A sign never says more than the words beside it: whoever cannot see it, or has it read out, misses nothing.
"""

from collections.abc import Callable
from enum import StrEnum
from functools import wraps
from typing import ParamSpec

from storage.records.message import Message

P = ParamSpec("P")


class Sign(StrEnum):
    """One emoji for each kind of message."""

    SIGN_UP = "📋"
    SQUAD = "👥"
    BRIEF = "📖"
    REMINDER = "⏰"
    PART = "🧩"
    PRACTICE = "📅"
    ANSWER = "💬"
    SURPRISE = "🎁"
    CHANGE = "📢"
    RESULT = "🏁"
    FEEDBACK = "💡"
    OFFER = "📨"
    JUDGING = "📝"
    DAY = "🕘"


MEANINGS: dict[Sign, str] = {
    Sign.SIGN_UP: "sign up and the squads so far",
    Sign.SQUAD: "who is in the squad, and what it is called",
    Sign.BRIEF: "the brief and the rules",
    Sign.REMINDER: "time that is left, and what is still open",
    Sign.PART: "the hand-in",
    Sign.PRACTICE: "turns at the practice table",
    Sign.ANSWER: "questions about the rules",
    Sign.SURPRISE: "the surprise",
    Sign.CHANGE: "something has changed",
    Sign.RESULT: "the result",
    Sign.FEEDBACK: "feedback",
    Sign.OFFER: "the place is offered",
    Sign.JUDGING: "judging and score sheets",
    Sign.DAY: "the event day",
}


def signed(sign: Sign, text: str) -> str:
    """A text behind its sign."""
    return f"{sign} {text}"


def posted(sign: Sign) -> Callable[[Callable[P, Message]], Callable[P, Message]]:
    """Mark a function that makes a message of a kind: the message begins with its sign.

    Raises:
        ValueError: from the function, where the text has no room for the sign.
    """

    def mark(make: Callable[P, Message]) -> Callable[P, Message]:
        @wraps(make)
        def made(*args: P.args, **kwargs: P.kwargs) -> Message:
            message = make(*args, **kwargs)
            return Message.model_validate(dict(message) | {"text": signed(sign, message.text)})

        return made

    return mark
