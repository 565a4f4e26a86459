"""When a result is final, that is with the days for protests over and none open or to be put right; who reads so."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from bot.rules.results.protests import protest_ends, was_right
from storage.records.plan import Plan
from storage.records.results import Protest

SURE: Literal["accepted"] = "accepted"
"""How an offer stands of which the squad's room reads, once the result is final, that the place is sure; and before,
when only protests are left to wait for, that it waits longer."""
SURE_WITH_A_YES: Literal["open"] = "open"
"""How an offer stands of which the room reads, once the result is final, that a yes is all it needs."""


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


def later_end(plan: Plan, announced_at: datetime, now: datetime) -> datetime | None:
    """When the days for protests end where a day was closed meanwhile, so that they are not over; else None."""
    ends = protest_ends(plan, announced_at)
    return ends if now < ends else None
