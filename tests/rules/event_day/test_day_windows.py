"""When squads may run: lessons of their section without the breaks, across a change of the clocks, too."""

from datetime import UTC, date, datetime, time

from bot.rules.calendar.calendar import schedule
from bot.rules.event_day.day_windows import day_dates, interview_windows, run_windows
from storage.records.day_plan import Break, DayPlan, Lesson
from storage.records.plan import Plan
from tests.actions.conftest import small_plan

ON = date(2027, 1, 22)


def plan(**values: object) -> Plan:
    return small_plan(event_day=DayPlan(**values))  # type: ignore[arg-type]


def at(hour: int, minute: int = 0, day: int = 22) -> datetime:
    """New York is five hours behind in winter."""
    return datetime(2027, 1, day, hour + 5, minute, tzinfo=UTC)


def test_without_dates_the_day_is_the_first_school_day_after_the_deadline() -> None:
    found = plan()
    # The window ends on Thursday 21 January 2027; Friday is a school day.
    assert day_dates(found, schedule(found)) == (ON,)
    dated = plan(dates=(date(2027, 1, 26), date(2027, 1, 25)))
    assert day_dates(dated, schedule(dated)) == (date(2027, 1, 25), date(2027, 1, 26))


def test_a_section_runs_in_its_own_lesson_and_one_without_all_day_long() -> None:
    lesson = Lesson(section="7-A", begins=time(9), ends=time(9, 45))
    found = plan(lessons=(lesson,), breaks=(Break(begins=time(9, 20), ends=time(9, 30)),))
    assert run_windows(found, [ON], "7-A") == ((at(9), at(9, 20)), (at(9, 30), at(9, 45)))
    assert run_windows(found, [ON], "7-B") == ((at(8), at(9, 20)), (at(9, 30), at(15)))
    assert interview_windows(found, [ON], "7-A") == run_windows(found, [ON], "7-A")
    anytime = plan(lessons=(lesson,), interviews="day")
    assert interview_windows(anytime, [ON], "7-A") == ((at(8), at(15)),)


def test_a_lesson_on_one_date_is_not_on_the_other() -> None:
    lesson = Lesson(section="7-A", begins=time(9), ends=time(10), date=date(2027, 1, 25))
    found = plan(dates=(ON, date(2027, 1, 25)), lessons=(lesson,))
    assert run_windows(found, [ON, date(2027, 1, 25)], "7-A") == ((at(9, day=25), at(10, day=25)),)


def test_lessons_that_overlap_are_one_window() -> None:
    lessons = (
        Lesson(section="7-A", begins=time(9), ends=time(10)),
        Lesson(section="7-A", begins=time(9, 30), ends=time(11)),
    )
    assert run_windows(plan(lessons=lessons), [ON], "7-A") == ((at(9), at(11)),)
