"""A try-out begins with last year's plan and a new date."""

from datetime import date, datetime, time

from storage.records.day_plan import DayPlan, Lesson
from storage.records.plan import Calendar
from tests.actions.conftest import Asking, Begin, button, small_plan

LESSONS = (
    Lesson(section="7-A", begins=time(8), ends=time(8, 45)),
    Lesson(section="7-B", begins=time(9), ends=time(9, 45), date=date(2027, 1, 27)),
)


async def test_next_year_begins_from_the_last_plan_with_a_new_date(begin: Begin) -> None:
    asking = await begin(
        "drafting",
        calendar=Calendar(
            brief=datetime(2027, 1, 11, 15, 30),  # noqa: DTZ001
            signup_closes=datetime(2027, 1, 13, 15, 30),  # noqa: DTZ001
            closed=(date(2027, 1, 18), date(2028, 1, 20)),
        ),
        event_day=DayPlan(dates=(date(2027, 1, 27),), lessons=LESSONS),
    )
    assert "running here already" in (await asking.message("plan.again")).text
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    form = await asking.form("plan.again")
    assert [getattr(field, "value", "") for field in form.fields] == ["", "15:30", "7-A, 7-B"]
    wrong = await asking.message(form.key, fields={"date": "soon", "time": "15:30", "sections": "8-A"})
    assert button(wrong, "Correct it").key == "plan.again"
    await asking.ask(form.key, fields={"date": "2028-01-10", "time": "14:00", "sections": "7-A, 8-A"})
    plan = (await asking.tryout()).plan
    assert plan.calendar.brief == datetime(2028, 1, 10, 14, 0)  # noqa: DTZ001
    assert (plan.calendar.signup_closes, plan.calendar.closed) == (None, (date(2028, 1, 20),))
    assert plan.event_day == DayPlan(lessons=LESSONS[:1]), "the event day follows the deadline"
    assert plan.sections == ("7-A", "8-A") and plan.events == small_plan().events


async def test_without_an_earlier_try_out_there_is_no_plan_to_take_again(nobody: Asking) -> None:
    assert "no earlier try-out" in (await nobody.message("plan.again")).text
