"""How long names are kept, after a result as the plan says (`retention_days`), and for how long what was answered."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar.local_time import instant, wall_clock
from storage.records.plan import Plan
from storage.records.tryout import Tryout

WITHOUT_A_RESULT = timedelta(days=365)
"""Where no result is announced and the try-out is not put away either, names are erased so long after the deadline."""
INTERACTIONS_KEPT = timedelta(days=2)
"""So long it is kept what somebody was answered, with names in it: the platform may repeat an event, within minutes."""


def purge_at(plan: Plan, announced_at: datetime) -> datetime:
    """When names are erased: the retention days after the announcement, at the same time of day at the school."""
    zone = ZoneInfo(plan.zone)
    return instant(wall_clock(announced_at, zone) + timedelta(days=plan.retention_days), zone)


def purge_without_result(tryout: Tryout, deadline: datetime) -> datetime | None:
    """When names are erased where no result comes; None while there are none, or once a result has been announced."""
    no_result = tryout.state != "drafting" and tryout.first_announced_at is None
    return deadline + WITHOUT_A_RESULT if no_result else None
