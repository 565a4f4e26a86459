"""Certificates: from when on they are made, and who gets one."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from storage.records.people import Squad, Student
from storage.records.tryout import State


def made_for(
    announced_at: datetime | None, rows: Iterable[tuple[Squad | None, Sequence[Student]]]
) -> list[tuple[Student, Squad]]:
    """Every student in a squad, squad by squad, once the result is announced; `rows` are squads with their members.

    Raises Refusal: `certificates_early`, `certificates_nobody`.
    """
    if announced_at is None:
        raise Refusal(ResultReason.CERTIFICATES_EARLY)
    found = [(one, squad) for squad, members in rows if squad is not None for one in members]
    if not found:
        raise Refusal(ResultReason.CERTIFICATES_NOBODY)
    return found


def may_be_printed(state: State) -> bool:
    """Whether a coach is led to certificates: while the result is announced."""
    return state == "announced"
