"""Which days are school days: not the weekend, not the school's closed days, no public holiday if the plan says so;
and how many of them are left."""

from datetime import date, datetime, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

from bot.rules.calendar.public_holidays import public_holidays
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan import Calendar, Plan

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
FARTHEST = 400
"""Days without a single school day after which there is no point in looking further."""
Closed = Literal["weekend", "closed", "holiday"]


class SchoolDays:
    """The school days of one plan.

    Raises Refusal `holidays_country` (country, known) or `holidays_region` (country, region, known) when made for a
    country or region whose public holidays are not known.
    """

    def __init__(self, calendar: Calendar) -> None:
        self._weekend = frozenset(WEEKDAYS.index(day) for day in calendar.weekend)
        self._closed = frozenset(calendar.closed)
        self._holidays = public_holidays(calendar.holidays) if calendar.holidays else {}

    def closed_because(self, day: date) -> Closed | None:
        """Why there is no school on `day`; None on a school day."""
        if day in self._closed:
            return "closed"
        if day.weekday() in self._weekend:
            return "weekend"
        return "holiday" if day in self._holidays else None

    def holiday_name(self, day: date) -> str:
        """What the public holiday on `day` is called; empty when it is none."""
        return self._holidays.get(day, "")

    def first_from(self, day: date) -> date:
        """`day` itself if it is a school day, else the next one. Raises Refusal `no_school_days`."""
        for later in range(FARTHEST):
            candidate = day + timedelta(days=later)
            if self.closed_because(candidate) is None:
                return candidate
        raise Refusal(Reason.NO_SCHOOL_DAYS, day=day)

    def following(self, day: date, count: int) -> tuple[date, ...]:
        """The `count` school days after `day`, which moves forward to a school day first. Raises as `first_from`."""
        days, last = [], self.first_from(day)
        for _ in range(count):
            last = self.first_from(last + timedelta(days=1))
            days.append(last)
        return tuple(days)


def school_days_left(plan: Plan, deadline: datetime, now: datetime) -> int:
    """School days after today, the day of the deadline among them."""
    zone, school = ZoneInfo(plan.zone), SchoolDays(plan.calendar)
    today, last = now.astimezone(zone).date(), deadline.astimezone(zone).date()
    days = (today + timedelta(days=ahead) for ahead in range(1, (last - today).days + 1))
    return sum(school.closed_because(day) is None for day in days)
