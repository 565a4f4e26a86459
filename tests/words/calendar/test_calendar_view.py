"""The whole calendar, line by line."""

from typing import Any

from bot.rules.calendar.calendar import schedule
from bot.words.calendar.calendar_view import explain
from tests.rules.plan_samples import plan


def lines(zone: str = "America/New_York", **calendar: Any) -> list[str]:
    of_plan = plan(zone, **calendar)
    return explain(of_plan, schedule(of_plan))


def test_the_calendar_is_told_day_by_day() -> None:
    assert lines(days=8, counting="school", holidays={"country": "US"}, closed=["2026-11-02"]) == [
        "All times are local times of America/New_York.",
        "",
        "Brief           Monday 26 October 2026 at 15:30",
        "Sign-up closes  Monday 26 October 2026 at 15:30",
        "Deadline        Friday 6 November 2026 at 15:30",
        "Judging closes  Monday 9 November 2026 at 15:30",
        "",
        "From the brief to the deadline: 8 school days. No reminder from 20:00 to 07:00.",
        "  day  1  Tue 27 Oct 2026  reminder 16:00",
        "  day  2  Wed 28 Oct 2026  reminder 16:00",
        "  day  3  Thu 29 Oct 2026  reminder 16:00",
        "  day  4  Fri 30 Oct 2026  reminder 16:00",
        "          Sat 31 Oct 2026  weekend",
        "          Sun  1 Nov 2026  weekend; clocks go back 1 hour",
        "          Mon  2 Nov 2026  school closed",
        "  day  5  Tue  3 Nov 2026  reminder 16:00",
        "  day  6  Wed  4 Nov 2026  reminder 16:00",
        "  day  7  Thu  5 Nov 2026  reminder 16:00",
        "  day  8  Fri  6 Nov 2026  reminders 12:30 and 14:30; deadline 15:30",
        "",
        "Judges who still owe sheets are reminded once: Fri  6 Nov 2026, 16:00.",
        "Protests: until the evening of the 2nd school day after the announcement.",
        "Names and texts are erased 60 days after the announcement.",
    ]


def test_public_holidays_are_named() -> None:
    text = "\n".join(lines(brief="2026-11-20T15:30", counting="school", holidays={"country": "US"}))
    assert "          Thu 26 Nov 2026  Thanksgiving Day\n" in text


def test_half_an_hour_of_clock_change_is_told_as_such() -> None:
    text = "\n".join(lines("Australia/Lord_Howe", brief="2026-09-28T15:30"))
    assert "Sun  4 Oct 2026  weekend; reminder 16:00; clocks go forward 30 minutes" in text


def test_a_reminder_that_waited_is_marked() -> None:
    assert any(line.endswith("reminder 07:00 (after the quiet hours)") for line in lines(remind_at="21:00"))


def test_no_line_is_wider_than_a_terminal() -> None:
    for line in lines(days=60, remind_at="21:00", last_day_hours=[5, 4, 3, 2, 1]):
        assert len(line) <= 120
