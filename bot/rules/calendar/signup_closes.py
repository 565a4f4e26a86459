"""Sign-up closes: which squads are told that they are too small, and when it has ended with a brief released before."""

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from bot.rules.core.lateness import UNTIL_MORNING
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import State

if TYPE_CHECKING:
    from bot.rules.calendar.squad_debts import Debt


def members_missing(debts: "Sequence[Debt]") -> int:
    """How many members a squad lacks, of all that it owes; it is told so where it is more than none."""
    return next((debt.number for debt in debts if debt.kind == "members"), 0)


def ends_with_brief(ran: bool, left: Sequence[ScheduledJob], now: datetime) -> bool:
    """Whether sign-up that `ran` has ended as the brief went out: its close, if one is `left`, is due, or was held."""
    return ran and all(row.at <= now or UNTIL_MORNING in row.key for row in left)


def may_run(state: State) -> bool:
    """Whether sign-up may be open: before the brief and, where it closes later, after it."""
    return state in ("signup", "window")


def still_runs(left: Sequence[ScheduledJob]) -> bool:
    """Whether sign-up is open still, by its closes that are `left`: one that was only held until morning is none."""
    return any(UNTIL_MORNING not in row.key for row in left)
