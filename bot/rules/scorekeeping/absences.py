"""A squad that does not take part in an event: only a coach excuses it, with a reason, and only without attempts."""

from collections.abc import Iterable
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from storage.records.people import Squad
from storage.records.scores import Absence, Attempt

LONGEST_REASON = 300
"""Characters of why a squad is absent or excused."""


def state_of(absence: Absence | None) -> Literal["here", "absent", "excused"]:
    """What is noted of a squad, and chosen when the form opens: it takes part, where nobody has noted anything."""
    if absence is None:
        return "here"
    return "excused" if absence.excused else "absent"


def read_absence(
    squad_id: int, event: str, state: str, reason: str, before: Absence | None, is_coach: bool
) -> Absence | None:
    """What is noted: None where the squad takes part; `before` is what was noted until now.

    Raises Refusal: `only_coach_excuses`, also to change what a coach excused; `absence_reason`.
    """
    excused, was_excused = state == "excused", before is not None and before.excused
    if (excused or was_excused) and not is_coach:
        raise Refusal(TableReason.ONLY_COACH_EXCUSES)
    if state == "here":
        return None
    why = reason.strip()
    if excused and not why:
        raise Refusal(TableReason.ABSENCE_REASON)
    return Absence(squad_id=squad_id, event=event, excused=excused, reason=why[:LONGEST_REASON])


def check_no_attempts(attempts: Iterable[Attempt], squad: Squad, event: str) -> None:
    """An absence would hide what the squad has done in any measure of the event.

    Raises Refusal: `absence_attempts` (squad).
    """
    if any(one.squad_id == squad.id and one.event == event for one in attempts):
        raise Refusal(TableReason.ABSENCE_ATTEMPTS, squad=squad.name)


def check_takes_part(squad: Squad, absence: Absence | None) -> None:
    """Nothing is recorded of a squad that does not take part. Raises Refusal: `squad_absent` (squad)."""
    if absence is not None:
        raise Refusal(TableReason.SQUAD_ABSENT, squad=squad.name)
