"""School days, against NumPy's business days and the `holidays` package 0.109 (reference value F6)."""

from datetime import date, timedelta

import numpy as np
import pytest

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.school_days import WEEKDAYS, SchoolDays, school_days_left
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from tests.actions.conftest import small_plan
from tests.rules.plan_samples import calendar

TEN_DAYS = [  # country, region, start, ten school days later, public holidays in between, weekend
    ("US", None, "2026-11-16", "2026-12-01", ["2026-11-26"], None),
    ("GB", "ENG", "2026-03-30", "2026-04-15", ["2026-04-03", "2026-04-06"], None),
    ("AU", "NSW", "2026-09-28", "2026-10-13", ["2026-10-05"], None),
    ("IN", None, "2026-11-02", "2026-11-16", ["2026-11-08"], None),
    ("GB", "ENG", "2026-12-21", "2027-01-07", ["2026-12-25", "2026-12-26", "2026-12-28", "2027-01-01"], None),
    ("US", None, "2026-12-18", "2027-01-05", ["2026-12-25", "2027-01-01"], None),
    ("BH", None, "2026-12-06", "2026-12-22", ["2026-12-16", "2026-12-17"], ("friday", "saturday")),
]


@pytest.mark.parametrize(("country", "region", "start", "after", "holidays", "weekend"), TEN_DAYS)
def test_ten_school_days_later_skips_weekends_and_public_holidays(
    country: str, region: str | None, start: str, after: str, holidays: list[str], weekend: tuple[str, ...] | None
) -> None:
    plan = calendar(holidays={"country": country, "region": region}, weekend=weekend or ("saturday", "sunday"))
    school, first, last = SchoolDays(plan), date.fromisoformat(start), date.fromisoformat(after)
    assert school.following(first, 10)[-1] == last
    span = [first + timedelta(days=number) for number in range((last - first).days + 1)]
    assert [day.isoformat() for day in span if school.holiday_name(day)] == holidays


def test_the_schools_own_closed_day_wins_over_the_list_of_public_holidays() -> None:
    school = SchoolDays(calendar(holidays={"country": "US"}, closed=[date(2026, 11, 27)]))
    assert school.closed_because(date(2026, 11, 26)) == "holiday"
    assert school.closed_because(date(2026, 11, 27)) == "closed"
    assert school.following(date(2026, 11, 16), 10)[-1] == date(2026, 12, 2)  # F6: one day later than without


@pytest.mark.parametrize("weekend", [("saturday", "sunday"), ("friday", "saturday"), ("sunday",), ()])
def test_counting_agrees_with_numpys_business_days(weekend: tuple[str, ...]) -> None:
    closed = [date(2026, 11, 3), date(2026, 11, 11), date(2026, 11, 12), date(2026, 12, 24), date(2026, 12, 25)]
    school = SchoolDays(calendar(weekend=weekend, closed=closed))
    mask = [day not in weekend for day in WEEKDAYS]
    for start in (date(2026, 10, 26) + timedelta(days=number) for number in range(14)):
        for count in (1, 2, 5, 10, 40):
            expected = np.busday_offset(start, count, roll="forward", weekmask=mask, holidays=closed)
            assert school.following(start, count)[-1] == expected.astype(date)


def test_a_calendar_without_any_school_day_is_refused_instead_of_searched_for_ever() -> None:
    with pytest.raises(Refusal) as refused:
        SchoolDays(calendar(weekend=WEEKDAYS)).following(date(2026, 10, 26), 1)
    assert refused.value.reason == Reason.NO_SCHOOL_DAYS


def test_school_days_are_counted_without_the_days_on_which_school_is_closed() -> None:
    of_class = small_plan()
    dates, school = schedule(of_class), SchoolDays(of_class.calendar)
    days = [day for day in dates.days if school.closed_because(day) is None]
    assert school_days_left(of_class, dates.deadline, dates.deadline) == 0
    assert school_days_left(of_class, dates.deadline, dates.brief) == len(days)
