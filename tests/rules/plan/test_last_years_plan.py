"""Last year's plan with a new date: what moves along."""

from datetime import date, datetime

from bot.rules.plan.last_years_plan import moved_to
from storage.records.plan import Calendar
from tests.actions.conftest import small_plan

BRIEF, NEXT_YEAR = datetime.fromisoformat("2027-01-11T15:30"), datetime.fromisoformat("2028-01-10T14:00")


def test_sign_up_closes_with_the_brief_and_only_closed_days_to_come_stay() -> None:
    last = small_plan(
        calendar=Calendar(
            brief=BRIEF,
            signup_closes=datetime.fromisoformat("2027-01-13T15:30"),
            judging_closes=datetime.fromisoformat("2027-02-01T12:00"),
            closed=(date(2027, 1, 18), date(2028, 1, 10), date(2028, 1, 20)),
        )
    )
    moved = moved_to(last, NEXT_YEAR, ())
    calendar = moved.calendar
    assert (calendar.brief, calendar.signup_closes, calendar.judging_closes) == (NEXT_YEAR, None, None)
    assert calendar.closed == (date(2028, 1, 10), date(2028, 1, 20))
    assert moved.sections == last.sections
    assert moved_to(last, NEXT_YEAR, ("8-A",)).sections == ("8-A",)
