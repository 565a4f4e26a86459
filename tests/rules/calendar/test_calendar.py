"""The calendar: windows, deadlines and reminders, right across clock changes."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.calendar.calendar import is_quiet, protest_ends, purge_at, reminder_before, schedule, school_day_ends
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from tests.rules.plan_samples import plan

TEN_DAYS_LATER = [  # reference value F2 (IANA 2026f): zone, brief, brief (UTC), deadline (UTC), hours in between
    ("America/New_York", "2026-10-26T15:30", "2026-10-26T19:30", "2026-11-05T20:30", 241.0),
    ("America/New_York", "2027-03-08T15:30", "2027-03-08T20:30", "2027-03-18T19:30", 239.0),
    ("Europe/London", "2026-10-19T15:30", "2026-10-19T14:30", "2026-10-29T15:30", 241.0),
    ("Europe/London", "2027-03-22T15:30", "2027-03-22T15:30", "2027-04-01T14:30", 239.0),
    ("Australia/Sydney", "2026-09-28T15:30", "2026-09-28T05:30", "2026-10-08T04:30", 239.0),
    ("Australia/Sydney", "2027-03-29T15:30", "2027-03-29T04:30", "2027-04-08T05:30", 241.0),
    ("Australia/Lord_Howe", "2026-09-28T15:30", "2026-09-28T05:00", "2026-10-08T04:30", 239.5),
    ("Asia/Kolkata", "2026-10-26T15:30", "2026-10-26T10:00", "2026-11-05T10:00", 240.0),
    ("America/Phoenix", "2026-10-26T15:30", "2026-10-26T22:30", "2026-11-05T22:30", 240.0),
]


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


@pytest.mark.parametrize(("zone", "brief", "brief_utc", "deadline_utc", "hours"), TEN_DAYS_LATER)
def test_ten_days_later_the_clock_on_the_wall_shows_the_same_time(
    zone: str, brief: str, brief_utc: str, deadline_utc: str, hours: float
) -> None:
    found = schedule(plan(zone, brief=brief))
    assert found.brief == utc(brief_utc)
    assert found.deadline == utc(deadline_utc)
    assert found.deadline - found.brief == timedelta(hours=hours)
    assert len(found.days) == 10


def test_one_reminder_a_day_and_two_more_on_the_last() -> None:
    found = schedule(plan(remind_at="16:00", quiet_from="20:00", quiet_until="07:00"))
    zone = ZoneInfo("America/New_York")
    shown = [(reminder.key, f"{reminder.at.astimezone(zone):%d %H:%M}") for reminder in found.reminders]
    # The clocks go back on 1 November; on the 5th, the deadline (15:30) comes before the hour of the reminder.
    assert shown == [
        ("daily-1", "27 16:00"),
        ("daily-2", "28 16:00"),
        ("daily-3", "29 16:00"),
        ("daily-4", "30 16:00"),
        ("daily-5", "31 16:00"),
        ("daily-6", "01 16:00"),
        ("daily-7", "02 16:00"),
        ("daily-8", "03 16:00"),
        ("daily-9", "04 16:00"),
        ("last-day-3", "05 12:30"),
        ("last-day-1", "05 14:30"),
    ]
    assert not any(reminder.moved for reminder in found.reminders)


def test_a_last_hour_that_waited_for_the_end_of_quiet_hours_is_left_out_if_the_next_comes_soon() -> None:
    def last(quiet_until: str) -> list[str]:
        found = schedule(plan(last_day_hours=[3, 2], quiet_from="20:00", quiet_until=quiet_until))
        return [f"{r.key} {r.at.astimezone(found.zone):%H:%M}" for r in found.reminders if r.kind == "last-day"]

    # The deadline is at 15:30.
    assert last("13:10") == ["last-day-3 13:10", "last-day-2 13:30"]
    assert last("12:30") == ["last-day-3 12:30", "last-day-2 13:30"]
    assert last("13:20") == ["last-day-2 13:30"]
    assert last("13:40") == ["last-day-3 13:40"], "both waited until one moment"


def test_a_day_of_the_window_can_have_its_own_reminder_hour() -> None:
    found = schedule(plan(remind_at_on={2: "08:15", 10: "09:00"}))
    local = {r.key: f"{r.at.astimezone(found.zone):%d %H:%M}" for r in found.reminders}
    assert local["daily-1"] == "27 16:00"
    assert local["daily-2"] == "28 08:15"
    assert local["daily-10"] == "05 09:00"


def test_a_reminder_in_the_quiet_hours_waits_for_the_morning() -> None:
    found = schedule(plan(remind_at="21:30", quiet_from="20:00", quiet_until="06:45"))
    first = found.reminders[0]
    assert (first.number, first.moved) == (1, True)
    assert first.at == utc("2026-10-28T10:45")  # 06:45 the next morning, before the clocks go back
    assert found.reminders[-3].number == 9  # the evening of day 9 becomes the morning of day 10; day 10 has no evening


def test_a_reminder_of_a_school_evening_waits_for_the_morning_of_the_next_school_day() -> None:
    found = schedule(plan(counting="school", remind_at="21:30"))
    mornings = [r.at.astimezone(found.zone) for r in found.reminders if r.kind == "daily"]
    assert [f"{at:%a %d %H:%M}" for at in mornings[3:5]] == ["Mon 02 07:00", "Tue 03 07:00"]  # from Friday and Monday


def test_two_reminders_at_one_moment_become_one() -> None:
    found = schedule(plan(remind_at="14:30"))
    assert [r.key for r in found.reminders][-3:] == ["daily-9", "last-day-3", "last-day-1"]
    assert len({r.at for r in found.reminders}) == len(found.reminders)


@pytest.mark.parametrize(
    ("quiet_from", "quiet_until", "quiet", "awake"),
    [
        ("20:00", "07:00", ["20:00", "23:59", "00:00", "06:59"], ["19:59", "07:00", "12:00"]),
        ("01:00", "06:00", ["01:00", "05:59"], ["00:59", "06:00", "23:00"]),
        ("08:00", "08:00", [], ["07:59", "08:00", "08:01"]),
    ],
)
def test_quiet_hours_begin_with_their_start_and_stop_at_their_end(
    quiet_from: str, quiet_until: str, quiet: list[str], awake: list[str]
) -> None:
    calendar = plan(quiet_from=quiet_from, quiet_until=quiet_until).calendar
    assert all(is_quiet(time.fromisoformat(moment), calendar) for moment in quiet)
    assert not any(is_quiet(time.fromisoformat(moment), calendar) for moment in awake)


def test_hours_before_the_deadline_are_hours_that_pass_even_when_the_clocks_go_back() -> None:
    found = schedule(plan(brief="2026-10-22T03:30", weekend=[], quiet_from="00:00", quiet_until="00:00"))
    assert found.deadline == utc("2026-11-01T08:30")  # 03:30 after the change
    by_key = {r.key: r.at.astimezone(found.zone) for r in found.reminders}
    assert f"{by_key['last-day-3']:%H:%M %Z}" == "01:30 EDT"
    assert f"{by_key['last-day-1']:%H:%M %Z}" == "02:30 EST"


def test_equal_ends_mean_no_quiet_hours() -> None:
    found = schedule(plan(remind_at="03:00", quiet_from="20:00", quiet_until="20:00"))
    assert found.reminders[0].at == utc("2026-10-27T07:00")
    assert not found.reminders[0].moved


def test_a_window_of_school_days_skips_weekends_and_closed_days() -> None:
    found = schedule(plan(counting="school", days=5, closed=["2026-10-29"]))
    assert [day.day for day in found.days] == [27, 28, 30, 2, 3]
    assert found.deadline == utc("2026-11-03T20:30")
    reminded = [r.at.astimezone(found.zone).date() for r in found.reminders if r.kind == "daily"]
    assert reminded == list(found.days[:-1])


def test_a_brief_on_a_day_without_school_counts_from_the_next_school_day() -> None:
    found = schedule(plan(brief="2026-10-24T10:00", counting="school", days=3))  # a Saturday
    assert found.brief == utc("2026-10-24T14:00")
    assert [day.day for day in found.days] == [27, 28, 29]


def test_a_deadline_on_a_closed_day_moves_to_the_next_school_day() -> None:
    found = schedule(plan(closed=["2026-11-05", "2026-11-06"]))
    assert found.moved_from == date(2026, 11, 5)
    assert found.deadline == utc("2026-11-09T20:30")  # Monday, same time of day
    assert len(found.days) == 14


def test_a_deadline_on_a_closed_day_is_refused_where_the_plan_says_so() -> None:
    with pytest.raises(Refusal) as refused:
        schedule(plan(closed=["2026-11-05"], deadline_on_closed_day="refuse"))
    assert refused.value.reason == Reason.DEADLINE_CLOSED
    assert refused.value.fields == {"day": date(2026, 11, 5), "next_day": date(2026, 11, 6)}


def test_a_deadline_that_never_happens_is_when_the_clocks_go_forward() -> None:
    found = schedule(plan(brief="2027-03-04T02:30", days=10, deadline_on_closed_day="move", weekend=[]))
    assert found.deadline == utc("2027-03-14T07:00")  # 02:30 does not exist in New York on that day


def test_a_brief_sent_later_than_planned_moves_the_whole_window() -> None:
    late = utc("2026-10-28T13:05:30")
    found = schedule(plan(), brief_at=late)
    assert (found.brief, found.signup_closes) == (late, late)
    assert found.deadline.astimezone(found.zone).replace(tzinfo=None) == datetime.fromisoformat("2026-11-09T09:05:30")
    assert found.moved_from == date(2026, 11, 7)


def test_signup_and_judging_close_when_the_plan_says_or_by_custom() -> None:
    usual = schedule(plan())
    assert usual.signup_closes == usual.brief
    assert usual.judging_closes.astimezone(usual.zone).replace(tzinfo=None) == datetime.fromisoformat(
        "2026-11-08T15:30"
    )
    named = schedule(plan(signup_closes="2026-10-28T12:00", judging_closes="2026-11-12T20:00"))
    assert named.signup_closes == utc("2026-10-28T16:00")
    assert named.judging_closes == utc("2026-11-13T01:00")


def test_judges_are_reminded_once_a_day_until_judging_closes() -> None:
    found = schedule(plan())
    assert [(r.key, f"{r.at.astimezone(found.zone):%d %H:%M}") for r in found.judging_reminders] == [
        ("judging-1", "05 16:00"),
        ("judging-2", "06 16:00"),
        ("judging-3", "07 16:00"),
    ]


def test_days_are_numbered_from_the_day_after_the_brief() -> None:
    found = schedule(plan())
    assert found.day_number(found.brief) == 0
    assert found.day_number(utc("2026-10-27T03:59")) == 0  # 23:59 on the day of the brief
    assert found.day_number(utc("2026-10-27T04:00")) == 1
    assert found.day_number(found.deadline) == 10


def test_protests_end_in_the_evening_of_a_school_day_and_names_go_after_calendar_days() -> None:
    announced = utc("2026-10-30T19:00")  # Friday 15:00; the clocks go back on Sunday
    of_plan = plan().model_copy(update={"protest_days": 2, "retention_days": 60})
    assert protest_ends(of_plan, announced) == utc("2026-11-03T23:00")  # Tuesday 18:00
    assert purge_at(of_plan, announced) == utc("2026-12-29T20:00")
    assert protest_ends(of_plan.model_copy(update={"protest_days": 0}), announced) == announced


@pytest.mark.parametrize(
    ("quiet", "ends"), [(time(20), "18:00"), (time(17, 30), "17:30"), (time(12), "12:00"), (time(1), "18:00")]
)
def test_a_day_that_was_given_ends_in_the_evening_or_when_the_quiet_hours_begin(quiet: time, ends: str) -> None:
    of_plan = plan(quiet_from=quiet)
    for given_at in ("2026-10-29T12:00", "2026-10-29T19:59", "2026-10-30T02:30"):  # Thursday, to 22:30 at the school
        until = school_day_ends(of_plan, utc(given_at), 1)
        assert f"{until.astimezone(ZoneInfo(of_plan.zone)):%a %H:%M}" == f"Fri {ends}"


@pytest.mark.parametrize(
    ("given_at", "days", "reminded"),
    [
        ("2026-10-29T13:00", 3, "Mon 16:00"),  # Thursday morning, until Tuesday evening
        ("2026-10-30T13:00", 1, "Fri 16:00"),  # Friday morning, until Monday evening: not on Sunday
        ("2026-10-30T20:30", 1, "Mon 12:00"),  # Friday 16:30, so the daily reminder is past
    ],
)
def test_of_a_day_that_was_given_people_are_reminded_on_a_school_day(given_at: str, days: int, reminded: str) -> None:
    of_plan, at = plan(), utc(given_at)
    found = reminder_before(of_plan, at, school_day_ends(of_plan, at, days))
    assert found is not None and f"{found.astimezone(ZoneInfo(of_plan.zone)):%a %H:%M}" == reminded


ZONES = ["America/New_York", "Europe/London", "Australia/Sydney", "Australia/Lord_Howe", "Asia/Kolkata"]
TIMES = st.times().map(lambda moment: moment.replace(second=0, microsecond=0))


@given(
    zone=st.sampled_from(ZONES),
    brief=st.datetimes(datetime.fromisoformat("2026-08-01"), datetime.fromisoformat("2027-06-30")),
    days=st.integers(1, 25),
    counting=st.sampled_from(["calendar", "school"]),
    remind_at=TIMES,
    last_day_hours=st.lists(st.integers(1, 23), max_size=4),
    quiet=st.tuples(TIMES, TIMES),
)
def test_every_reminder_lies_in_the_window_and_outside_the_quiet_hours(
    zone: str,
    brief: datetime,
    days: int,
    counting: str,
    remind_at: time,
    last_day_hours: list[int],
    quiet: tuple[time, time],
) -> None:
    of_plan = plan(
        zone,
        brief=brief.replace(second=0, microsecond=0),
        days=days,
        counting=counting,
        remind_at=remind_at,
        last_day_hours=last_day_hours,
        quiet_from=quiet[0],
        quiet_until=quiet[1],
    )
    found = schedule(of_plan)
    for start, reminders, end in (
        (found.brief, found.reminders, found.deadline),
        (found.deadline, found.judging_reminders, found.judging_closes),
    ):
        instants = [reminder.at for reminder in reminders]
        assert instants == sorted(set(instants))
        assert all(start < at < end for at in instants)
        assert not any(is_quiet(at.astimezone(found.zone).time(), of_plan.calendar) for at in instants)
        assert len({reminder.key for reminder in reminders}) == len(reminders)
    per_day = [r.at.astimezone(found.zone).date() for r in found.reminders if r.kind == "daily"]
    assert len(per_day) == len(set(per_day))
    assert found.brief < found.deadline < found.judging_closes
    assert len(found.days) >= days


@given(
    zone=st.sampled_from(ZONES),
    at=st.datetimes(datetime.fromisoformat("2026-08-01"), datetime.fromisoformat("2027-06-30"), timezones=st.just(UTC)),
    days=st.integers(1, 14),
    remind_at=TIMES,
    quiet=st.tuples(TIMES, TIMES),
)
def test_days_that_were_given_end_on_a_school_day_and_are_reminded_of_in_between(
    zone: str, at: datetime, days: int, remind_at: time, quiet: tuple[time, time]
) -> None:
    of_plan = plan(zone=zone, remind_at=remind_at, quiet_from=quiet[0], quiet_until=quiet[1])
    until, local = school_day_ends(of_plan, at, days), at.astimezone(ZoneInfo(zone))
    ends = until.astimezone(ZoneInfo(zone))
    first = np.busday_offset(local.date(), 0, roll="forward")
    assert np.datetime64(ends.date()) == np.busday_offset(first, days)
    assert ends.hour >= 12 and school_day_ends(of_plan, at, days + 1) > until > at
    reminded = reminder_before(of_plan, at, until)
    if reminded is not None:
        assert at < reminded < until
        assert not is_quiet(reminded.astimezone(ZoneInfo(zone)).time(), of_plan.calendar)
