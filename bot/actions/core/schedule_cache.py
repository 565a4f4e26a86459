"""The schedule of a try-out, worked out once a plan."""

from datetime import datetime
from functools import lru_cache

from bot.rules.calendar.calendar import Schedule, schedule
from storage.records.plan import Plan
from storage.records.tryout import Tryout


def schedule_of(tryout: Tryout) -> Schedule:
    """When things happen in a try-out, in UTC: as planned, or from the moment the brief really went out."""
    return _schedule(tryout.plan.model_dump_json(), tryout.brief_at)


@lru_cache(maxsize=8)
def _schedule(plan_json: str, brief_at: datetime | None) -> Schedule:
    return schedule(Plan.model_validate_json(plan_json), brief_at)
