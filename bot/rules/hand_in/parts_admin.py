"""The coach enters parts for students who cannot: from when until when, with what reason, and never over own words."""

from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.typed_reason import SHORTEST_REASON
from storage.records.hand_in import Part
from storage.records.people import Student
from storage.records.tryout import BEFORE_BRIEF, State


def is_for_coach(part: Part | None) -> bool:
    """Whether the coach may write a part: one that is missing, or that a coach has entered; never a student's own."""
    return part is None or part.by_coach


def check_may_enter(state: State, result_stands: bool, brief: datetime, one: Student, part: Part | None) -> None:
    """The coach enters what is missing, from the brief until the result, and never other words for a student's own.

    Raises:
        Refusal: `hand_in_over`, `hand_in_not_yet` (brief: seconds), `hand_in_own_words` (student).
    """
    if result_stands:
        raise Refusal(Reason.HAND_IN_OVER)
    if state in BEFORE_BRIEF:
        raise Refusal(Reason.HAND_IN_NOT_YET, brief=int(brief.timestamp()))
    if not is_for_coach(part):
        raise Refusal(Reason.HAND_IN_OWN_WORDS, student=one.name)


def check_late_reason(late: bool, typed: str) -> str:
    """Why a part is entered after the deadline, as one line; empty before it. Raises Refusal `hand_in_late`."""
    why = " ".join(typed.split())
    if late and len(why) < SHORTEST_REASON:
        raise Refusal(Reason.HAND_IN_LATE)
    return why if late else ""
