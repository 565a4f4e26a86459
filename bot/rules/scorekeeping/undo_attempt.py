"""Undoing an attempt: only the last one of a squad in a measure, and for which reasons."""

from collections.abc import Sequence
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from storage.records.scores import Attempt

Why = Literal["slip", "rerun"]
"""It was entered wrongly; or our equipment failed, and the squad runs again."""


def last_of(attempts: Sequence[Attempt], run_offs: Sequence[Attempt]) -> Attempt | None:
    """The attempt that can be undone: the last one of a squad in a measure; run-offs come after all others."""
    made = (*attempts, *run_offs)
    return made[-1] if made else None


def check_last(attempts: Sequence[Attempt], run_offs: Sequence[Attempt], attempt_id: int) -> None:
    """An attempt is the one that can be undone. Refusal `attempt_gone`."""
    last = last_of(attempts, run_offs)
    if last is None or last.id != attempt_id:
        raise Refusal(TableReason.ATTEMPT_GONE)
