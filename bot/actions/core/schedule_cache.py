"""The schedule of a try-out, worked out once a plan."""

from datetime import datetime
from functools import lru_cache

from bot.rules.calendar.calendar import Schedule, schedule
from storage.records.plan import Plan
from storage.records.tryout import Tryout


class _SamePlan:
    """A plan by its identity: plans never change, and the one of a try-out is read once (see `tryouts`)."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan

    def __hash__(self) -> int:
        return id(self.plan)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _SamePlan) and self.plan is other.plan


def schedule_of(tryout: Tryout) -> Schedule:
    """When things happen in a try-out, in UTC: as planned, or from the moment the brief really went out."""
    return _schedule(_SamePlan(tryout.plan), tryout.brief_at)


@lru_cache(maxsize=256)
def _schedule(of: _SamePlan, brief_at: datetime | None) -> Schedule:
    return schedule(of.plan, brief_at)
