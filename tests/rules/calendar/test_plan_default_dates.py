"""What a plan means where it says nothing of a date."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from bot.rules.calendar import plan_default_dates
from storage.records.plan import Calendar, Practice

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
DEADLINE = datetime(2027, 1, 22, 20, 30, tzinfo=UTC)
FRIDAY = date(2027, 1, 22)


def test_sign_up_closes_with_the_brief_unless_the_plan_says_when_and_with_the_deadline_at_the_latest() -> None:
    named = datetime(2027, 1, 9, 12, 0, tzinfo=UTC)
    assert plan_default_dates.signup_closes(None, BRIEF, DEADLINE) == BRIEF
    assert plan_default_dates.signup_closes(named, BRIEF, DEADLINE) == named
    assert plan_default_dates.signup_closes(datetime(2027, 2, 1, tzinfo=UTC), BRIEF, DEADLINE) == DEADLINE


def test_judges_should_be_done_three_days_after_the_deadline_at_the_same_time_of_day() -> None:
    local, zone = datetime(2027, 1, 22, 15, 30), ZoneInfo("America/New_York")  # noqa: DTZ001
    by_default = datetime(2027, 1, 25, 20, 30, tzinfo=UTC)
    assert plan_default_dates.judging_closes(None, local, zone) == by_default
    assert plan_default_dates.judging_closes(local, local, zone) == by_default
    assert plan_default_dates.judging_closes(local + timedelta(days=1), local, zone) == by_default - timedelta(days=2)


def test_turns_end_with_the_window_unless_the_plan_says_on_which_day() -> None:
    practice = Practice(times=(time(12, 10),))
    assert plan_default_dates.last_day_with_turns(practice, 10) == 10
    assert plan_default_dates.last_day_with_turns(practice.model_copy(update={"until_day": 4}), 10) == 4


def test_the_event_day_is_the_first_school_day_after_the_deadline() -> None:
    calendar = Calendar(brief=datetime(2027, 1, 11, 15, 30), closed=(date(2027, 1, 25),))  # noqa: DTZ001
    assert plan_default_dates.event_day(calendar, FRIDAY) == date(2027, 1, 26)
    assert plan_default_dates.event_day(calendar, date(2027, 1, 19)) == date(2027, 1, 20)
