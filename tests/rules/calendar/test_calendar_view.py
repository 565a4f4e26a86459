"""Which days a calendar lists, and when the clocks change."""

from datetime import date, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.calendar_view import clock_change, listed_days
from tests.actions.conftest import small_plan


def test_every_day_after_the_brief_is_listed_to_the_deadline_with_weekends() -> None:
    planned = schedule(small_plan())
    days = listed_days(planned)
    assert days[0] == planned.brief.astimezone(planned.zone).date() + timedelta(days=1)
    assert days[-1] == planned.days[-1] and set(planned.days) <= set(days)
    assert all(later - day == timedelta(days=1) for day, later in pairwise(days))


def test_clocks_go_forward_in_spring_and_back_in_autumn() -> None:
    # In New York summer time began on 8 March and ended on 1 November 2026 (IANA time zone database).
    zone = ZoneInfo("America/New_York")
    hour = timedelta(hours=1)
    assert [clock_change(zone, date(2026, *day)) for day in ((3, 8), (11, 1), (6, 1))] == [hour, -hour, timedelta()]
