"""When a result is final: the days for protests are over, and no protest is open or waits to be put right."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from bot.rules.results.protests import protest_ends, was_right
from storage.records.plan import Plan
from storage.records.protests import Protest


@dataclass(frozen=True)
class Doubt:
    """Why an announced result is not final."""

    until: datetime | None
    """When the days for protests end, as long as they last."""
    undecided: int = 0
    """Protests that two coaches have not decided."""
    upheld: int = 0
    """Protests that were right since the announcement, which has not been taken back and corrected."""

    @property
    def protests(self) -> int:
        """How many protests the result waits for."""
        return self.undecided + self.upheld

    @property
    def days_over(self) -> bool:
        """Whether it waits for protests alone: coaches, and squads that have said yes, are told that it does."""
        return self.until is None


def doubt(plan: Plan, announced_at: datetime, protests: Collection[Protest], now: datetime) -> Doubt | None:
    """Why a result that was announced then is not final now; None when it is."""
    ends = protest_ends(plan, announced_at)
    undecided = sum(one.agreed_at is None for one in protests)
    upheld = sum(was_right(one) and one.agreed_at is not None and one.agreed_at >= announced_at for one in protests)
    runs = plan.protest_days > 0 and now < ends
    return Doubt(ends if runs else None, undecided, upheld) if runs or undecided or upheld else None
