"""Closing days: what moves is what a calendar says, and nothing else does."""

from datetime import date, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.calendar.calendar import schedule
from bot.rules.core.refusal import Refusal
from bot.rules.plan.close_days import MOST, close, moves, span
from storage.records.plan import Calendar, Plan
from tests.actions.conftest import small_plan

BRIEF = datetime(2027, 1, 11, 15, 30)  # noqa: DTZ001 - local by meaning


def plan(counting: str = "school", **more: object) -> Plan:
    calendar = Calendar(brief=BRIEF, counting=counting, **more)  # type: ignore[arg-type]
    return small_plan(calendar=calendar)


@given(first=st.integers(0, 30), length=st.integers(1, 20))
def test_in_school_days_the_deadline_is_where_numpy_puts_it(first: int, length: int) -> None:
    """`busday_offset` of NumPy with the closed days as holidays."""
    days = tuple(date(2027, 1, 12) + timedelta(days=first + number) for number in range(length))
    changed = close(plan(), days, schedule(plan()))
    expected = np.busday_offset(BRIEF.date(), 10, roll="forward", holidays=list(days))
    after = schedule(changed)
    assert after.deadline.astimezone(after.zone).date() == expected.astype(date)


def test_in_calendar_days_the_window_gets_as_many_days_more() -> None:
    before = plan("calendar")
    days = span(date(2027, 1, 14), date(2027, 1, 17), date(2027, 1, 12))
    found = moves(before, close(before, days, schedule(before)), days, None)
    assert [day.isoformat() for day in found.closed] == ["2027-01-14", "2027-01-15"]
    # Two days after Thursday the 21st is a Saturday, from which the deadline moves on to the Monday.
    assert found.after.deadline - found.before.deadline == timedelta(days=4)
    assert found.reminders > 0


def test_a_day_after_the_window_moves_nothing() -> None:
    before = plan()
    days = (date(2027, 3, 1),)
    found = moves(before, close(before, days, schedule(before)), days, None)
    assert (found.after.deadline, found.reminders) == (found.before.deadline, 0)


@pytest.mark.parametrize(
    ("first", "last", "reason"), [(-1, 0, "close_past"), (3, 2, "close_order"), (0, MOST, "close_long")]
)
def test_days_that_cannot_be_closed(first: int, last: int, reason: str) -> None:
    today = date(2027, 1, 12)
    with pytest.raises(Refusal) as refusal:
        span(today + timedelta(days=first), today + timedelta(days=last), today)
    assert refusal.value.reason == reason


def test_without_a_last_day_only_the_first_is_closed() -> None:
    assert span(date(2027, 1, 13), None, date(2027, 1, 12)) == (date(2027, 1, 13),)
