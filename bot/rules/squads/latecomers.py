"""Who comes after sign-up had closed: when one may, and whether the coach is told."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.people import Student
from storage.records.tryout import State

MAY_COME_LATE: tuple[State, ...] = ("signup", "window", "judging")
"""While a try-out is in one of these states a coach can still place someone who came after sign-up had closed."""


def check_late(state: State, signup_open: bool) -> None:
    """Sign-up is over and judging is not.

    Raises:
        Refusal: `late_too_early`, `signup_not_open`, `late_over`.
    """
    if signup_open:
        raise Refusal(Reason.LATE_TOO_EARLY)
    check_may_come_late(state)


def check_may_come_late(state: State) -> None:
    """Somebody can come late, or be placed by a coach, now. Raises Refusal as `why_not_late`."""
    refusal = why_not_late(state)
    if refusal is not None:
        raise refusal


def coach_is_told(one: Student) -> bool:
    """Whether the coach hears of a latecomer: once, and not again when the same student says so anew."""
    return one.late_at is None


def why_not_late(state: State) -> Refusal | None:
    """Why nobody can come late, or be placed by a coach, now: `signup_not_open`, `late_over`; None where they can."""
    if state in MAY_COME_LATE:
        return None
    return Refusal(Reason.SIGNUP_NOT_OPEN if state == "drafting" else Reason.LATE_OVER)
