"""Turns at the practice table: which there are."""

from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from hypothesis import given, settings

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.school_days import SchoolDays
from bot.rules.practice.practice_table import PracticeTable, slots
from storage.records.plan import Calendar, Plan, Practice
from storage.records.practice import Turn
from tests.actions.conftest import small_plan
from tests.rules.plan_strategies import plans

TIMES = (time(12, 10), time(15, 40))
DAY, HOUR = timedelta(days=1), timedelta(hours=1)
START = datetime(2027, 1, 12, 17, 10, tzinfo=UTC)  # 12:10 in New York
EARLY = START - 10 * DAY


def plan(practice: Practice | None = None, zone: str = "America/New_York", **calendar: object) -> Plan:
    values = {"brief": datetime.fromisoformat("2027-01-11T15:30"), "counting": "school", **calendar}
    return small_plan(practice=practice or Practice(times=TIMES), calendar=Calendar.model_validate(values), zone=zone)


def begins(of: Plan) -> list[str]:
    """The turns in local time."""
    return [f"{at.astimezone(ZoneInfo(of.zone)):%m-%d %H:%M}" for at in slots(of, schedule(of))]


def turn(begin: datetime, squad: int | None, state: str = "held") -> Turn:
    return Turn.model_validate({"tryout_id": 1, "begins_at": begin, "squad_id": squad, "state": state})


def table(number: int, squads: int, *turns: Turn, **practice: object) -> PracticeTable:
    """So many turns, a day apart, for so many squads."""
    made = Practice.model_validate({"times": TIMES, **practice})
    return PracticeTable(made, tuple(START + n * DAY for n in range(number)), turns, tuple(range(1, squads + 1)))


def test_ten_school_days_with_two_turns_have_twenty_less_the_one_after_the_deadline() -> None:
    # The trade page counts 10 days x 2 turns; here the last day's 15:40 comes after the deadline of 15:30.
    found = begins(plan())
    assert len(found) == 19
    assert found[:3] == ["01-12 12:10", "01-12 15:40", "01-13 12:10"]
    assert found[-1] == "01-25 12:10"


def test_there_is_no_turn_on_weekends_closed_days_and_holidays_whatever_the_window_counts() -> None:
    of_plan = plan(
        counting="calendar", closed=(date(2027, 1, 13),), holidays={"country": "US"}, days=10
    )  # 18 January: Martin Luther King Jr. Day
    assert [day[:5] for day in begins(of_plan)[::2]] == ["01-12", "01-14", "01-15", "01-19", "01-20", "01-21"]


def test_days_can_be_left_out_at_both_ends() -> None:
    found = begins(plan(Practice(times=TIMES[:1], from_day=2, until_day=4)))
    assert found == ["01-13 12:10", "01-14 12:10", "01-15 12:10"]


def test_half_past_three_stays_half_past_three_when_the_clocks_change() -> None:
    # 14 March 2027: clocks go forward in New York (IANA tz database).
    of_plan = plan(brief=datetime.fromisoformat("2027-03-11T15:30"), days=2)
    found = slots(of_plan, schedule(of_plan))
    assert begins(of_plan) == ["03-12 12:10", "03-12 15:40", "03-15 12:10"]
    assert found[2] - found[0] == 3 * DAY - HOUR


def test_a_turn_the_clocks_jump_over_begins_when_they_do_and_none_overlap() -> None:
    practice = Practice(times=(time(2, 10), time(2, 40), time(3, 10), time(3, 20)))
    of_plan = plan(practice, brief=datetime.fromisoformat("2027-03-13T15:30"), counting="calendar", days=1, weekend=[])
    assert begins(of_plan) == ["03-14 03:00", "03-14 03:20"]


@given(plans())
@settings(max_examples=60, deadline=None)
def test_turns_of_any_plan_lie_in_the_window_on_school_days_and_do_not_overlap(of_plan: Plan) -> None:
    when, school = schedule(of_plan), SchoolDays(of_plan.calendar)
    found = slots(of_plan, when)
    if of_plan.practice is None:
        assert found == ()
        return
    length = timedelta(minutes=of_plan.practice.minutes)
    assert all(later - earlier >= length for earlier, later in pairwise(found))
    for begin in found:
        assert when.brief <= begin and begin + length <= when.deadline
        assert school.closed_because(begin.astimezone(when.zone).date()) is None
