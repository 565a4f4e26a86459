"""Undoing an attempt: only the last one of a squad in a measure, and for which reasons."""

from collections.abc import Sequence
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from storage.records.scores import Attempt

Why = Literal["slip", "rerun"]
"""It was entered wrongly; or our equipment failed, and the squad runs again."""


def check_last(attempts: Sequence[Attempt], run_offs: Sequence[Attempt], attempt_id: int) -> None:
    """An attempt is the last one of its squad in a measure; run-offs come after all others. Refusal `attempt_gone`."""
    made = (*attempts, *run_offs)
    if not made or made[-1].id != attempt_id:
        raise Refusal(TableReason.ATTEMPT_GONE)
