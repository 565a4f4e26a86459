"""When reminders come, worked out by hand and as properties of every plan, and in which days they ring."""

from datetime import UTC, datetime, time
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from bot.rules.calendar.calendar import schedule
from bot.rules.calendar.quiet_hours import is_quiet
from bot.rules.calendar.reminders import is_last_hour, rings
from tests.rules.plan_samples import plan, utc


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


def test_a_day_whose_reminder_waited_is_left_out_if_that_of_the_next_day_comes_soon() -> None:
    def daily(remind_at: str) -> list[str]:
        found = schedule(plan(remind_at=remind_at, remind_at_on={2: "21:30"}, quiet_from="20:00", quiet_until="07:00"))
        return [f"{r.key} {r.at.astimezone(found.zone):%d %H:%M}" for r in found.reminders if r.kind == "daily"][:3]

    assert daily("07:20") == ["daily-1 27 07:20", "daily-2 29 07:00", "daily-3 29 07:20"]
    assert daily("07:05") == ["daily-1 27 07:05", "daily-3 29 07:05", "daily-4 30 07:05"]
    assert daily("07:00") == ["daily-1 27 07:00", "daily-2 29 07:00", "daily-4 30 07:00"], "both at one moment"


def test_a_reminder_of_a_school_evening_waits_for_the_morning_of_the_next_school_day() -> None:
    found = schedule(plan(counting="school", remind_at="21:30"))
    mornings = [r.at.astimezone(found.zone) for r in found.reminders if r.kind == "daily"]
    assert [f"{at:%a %d %H:%M}" for at in mornings[3:5]] == ["Mon 02 07:00", "Tue 03 07:00"]  # from Friday and Monday


def test_two_reminders_at_one_moment_become_one() -> None:
    found = schedule(plan(remind_at="14:30"))
    assert [r.key for r in found.reminders][-3:] == ["daily-9", "last-day-3", "last-day-1"]
    assert len({r.at for r in found.reminders}) == len(found.reminders)


def test_hours_before_the_deadline_are_hours_that_pass_even_when_the_clocks_go_back() -> None:
    found = schedule(plan(brief="2026-10-22T03:30", weekend=[], quiet_from="00:00", quiet_until="00:00"))
    assert found.deadline == utc("2026-11-01T08:30")  # 03:30 after the change
    by_key = {r.key: r.at.astimezone(found.zone) for r in found.reminders}
    assert f"{by_key['last-day-3']:%H:%M %Z}" == "01:30 EDT"
    assert f"{by_key['last-day-1']:%H:%M %Z}" == "02:30 EST"


def test_judges_are_reminded_once_a_day_until_judging_closes() -> None:
    found = schedule(plan())
    assert [(r.key, f"{r.at.astimezone(found.zone):%d %H:%M}") for r in found.judging_reminders] == [
        ("judging-1", "05 16:00"),
        ("judging-2", "06 16:00"),
        ("judging-3", "07 16:00"),
    ]


def test_the_last_hour_is_the_last_one() -> None:
    deadline = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
    assert is_last_hour(deadline, deadline.replace(hour=19))
    assert not is_last_hour(deadline, deadline.replace(hour=19, minute=29))


def test_reminders_ring_in_the_last_days_and_hours_only() -> None:
    assert [rings(days, last_hours=False) for days in (9, 4, 3, 0)] == [False, False, True, True]
    assert rings(0, last_hours=True)


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
