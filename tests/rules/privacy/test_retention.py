"""How long names are kept: calendar days after the announcement, at the same time of day at the school."""

from datetime import UTC, datetime

from bot.rules.privacy.retention import purge_at
from tests.rules.plan_samples import plan


def test_names_go_so_many_days_after_the_announcement_also_where_the_clocks_change() -> None:
    announced = datetime(2026, 10, 30, 19, tzinfo=UTC)  # Friday 15:00; the clocks go back on Sunday
    of_plan = plan().model_copy(update={"retention_days": 60})
    assert purge_at(of_plan, announced) == datetime(2026, 12, 29, 20, tzinfo=UTC)
