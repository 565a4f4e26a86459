"""Last year's plan with a new date: what moves along."""

from datetime import date, datetime, time

from bot.rules.plan.last_years_plan import moved_to
from storage.records.day_plan import DayPlan, Lesson
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


def test_the_event_day_follows_the_new_deadline_with_the_lessons_of_every_day_and_of_sections_that_stay() -> None:
    every = Lesson(section="7-A", begins=time(8), ends=time(9))
    once = every.model_copy(update={"date": date(2027, 1, 27)})
    gone = every.model_copy(update={"section": "7-B"})
    day = DayPlan(dates=(date(2027, 1, 27), date(2027, 1, 28)), lessons=(every, once, gone), tables=3)
    moved = moved_to(small_plan(event_day=day), NEXT_YEAR, ("7-A", "8-A"))
    assert moved.event_day == day.model_copy(update={"dates": (), "lessons": (every,)})
    assert moved_to(small_plan(), NEXT_YEAR, ()).event_day is None
