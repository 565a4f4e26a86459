"""What the coach has put right is undone by a press: only the last of it, and while nothing hangs on it."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.decisions_and_corrections import Correction
from storage.records.people import Squad, Student


def check_last(one: Correction | None, last: Correction | None) -> Correction:
    """The correction, if it stands and none of the same student or squad came after it. Raises `correction_gone`."""
    if one is None or one.undone_at is not None or last is None or last.id != one.id:
        raise Refusal(Reason.CORRECTION_GONE)
    return one


def check_may_go_back(old: Squad | None, members: Sequence[Student], largest: int, attempts: int, at: datetime) -> None:
    """A student may go back to a squad: it takes part, the seat is free, and nothing was run since.

    `members` are those it has now; a squad that was too large before may be so again. `attempts`: how many have been
    recorded since for it, or for the squad of now; `at`: when it was left.

    Raises:
        Refusal: `correction_hangs`.
    """
    if (old is not None and old.withdrawn) or attempts:
        raise Refusal(Reason.CORRECTION_HANGS)
    if len(members) >= largest and any(one.joined_at is not None and one.joined_at > at for one in members):
        # Somebody else has the seat by now.
        raise Refusal(Reason.CORRECTION_HANGS)


def check_as_corrected(now: Mapping[str, Any], after: Mapping[str, Any]) -> None:
    """What a correction has changed still stands as it left it. Raises Refusal `correction_hangs`."""
    if now != after:
        raise Refusal(Reason.CORRECTION_HANGS)
