"""Reminders to judges: when they may be reminded, and of which sheets."""

from collections.abc import Collection, Sequence
from datetime import datetime, timedelta

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.my_sheets import Entry
from storage.records.people import Judge
from storage.records.tryout import BEFORE_BRIEF, State

JUST_OUT = timedelta(hours=6)
"""Nobody is reminded of sheets that were handed out so shortly before."""
REST = timedelta(hours=1)
"""So long after a coach's reminder judges are left in peace."""


def check_may_remind(state: State, before: datetime | None, now: datetime) -> None:
    """A coach may remind the judges now; `before` is when that was done last.

    Raises:
        Refusal: `judging_not_begun`, `just_reminded` (at).
    """
    if state in BEFORE_BRIEF:
        raise Refusal(Reason.JUDGING_NOT_BEGUN)
    if before is not None and now - before < REST:
        raise Refusal(Reason.JUST_REMINDED, at=int(before.timestamp()))


def is_just_out(opened_at: datetime, now: datetime) -> bool:
    """Whether sheets were handed out too shortly before for a reminder."""
    return now - opened_at < JUST_OUT


def is_written_to(judge: Judge) -> bool:
    """Whether a judge who owes sheets is reminded: one who has agreed; how many others there are, the coach reads."""
    return judge.opted_in_at is not None


def to_remind_of(mine: Sequence[Entry], just_out: Collection[str] = ()) -> list[Entry]:
    """The sheets of which a judge is reminded: still owed, can be marked now, and of no event that is `just_out`."""
    return [entry for entry in mine if entry.owed and entry.changeable and entry.event.key not in just_out]
