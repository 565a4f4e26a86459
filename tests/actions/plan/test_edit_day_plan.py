"""The plan of the event day in forms."""

from tests.actions.conftest import Begin


async def test_the_plan_of_the_day_is_changed_by_form_with_a_reason(begin: Begin) -> None:
    asking = await begin("drafting")
    assert "The plan says nothing" not in (await asking.message("day.panel")).text
    form = await asking.form("day.plan")
    assert [field.key for field in form.fields] == ["dates", "lessons", "breaks", "numbers"]
    typed = {
        "dates": "2027-01-22, 2027-01-25",
        "lessons": "7-A 9:00-9:45\n7-B 2027-01-25 10:00-10:45",
        "breaks": "9:20-9:25",
        "numbers": "2, 6, 8, 2, day",
    }
    await asking.ask(form.key, fields=typed)
    day = (await asking.tryout()).plan.event_day
    assert day is not None
    assert (day.tables, day.run_minutes, day.interview_minutes, day.change_minutes, day.interviews) == (
        2,
        6,
        8,
        2,
        "day",
    )
    assert [(one.section, str(one.begins), str(one.date)) for one in day.lessons] == [
        ("7-A", "09:00:00", "None"),
        ("7-B", "10:00:00", "2027-01-25"),
    ]
    wrong = await asking.filled("day.plan", fields={"dates": "soon", "lessons": "9-9", "breaks": "x", "numbers": "2"})
    for sentence in ("as a date", "this lesson", "this break", "five things"):
        assert sentence in wrong.text
