"""A try-out begins with a plan file, or with dates that are typed; all mistakes are told at once."""

from datetime import datetime

import pytest

from bot.rules.plan.read_plan import write_plan
from storage.records.message import Say, TextField
from storage.records.plan import Calendar
from tests.actions.conftest import Asking, Begin, button, small_plan
from tests.actions.office_cast import plan_file, texts


async def test_a_try_out_begins_with_a_plan_file(nobody: Asking) -> None:
    answer = await nobody.message("plan.use", uploads=plan_file(small_plan()))
    assert "is set up as a draft" in answer.text
    assert (await nobody.tryout()).plan == small_plan()


async def test_a_file_whose_brief_is_past_does_not_begin(nobody: Asking) -> None:
    old = Calendar(brief=datetime(2026, 1, 11, 15, 30))  # noqa: DTZ001
    assert "in the past" in (await nobody.message("plan.use", uploads=plan_file(small_plan(calendar=old)))).text
    assert "No try-out is running" in (await nobody.message("office")).text


async def test_all_mistakes_of_a_file_are_listed_at_once(nobody: Asking) -> None:
    text = write_plan(small_plan()).replace('"America/New_York"', '"New York"').replace("weight = 40", "weight = -1")
    answer = await nobody.message("plan.use", uploads=plan_file(text))
    assert "2 mistakes" in answer.text and "New York" in answer.text and "-1" in answer.text


async def test_a_list_of_mistakes_that_is_too_long_comes_as_a_file(nobody: Asking) -> None:
    lines = "\n".join(f"strange-key-number-{number} = {number}" for number in range(80))
    answer = await nobody.ask("plan.use", uploads=plan_file(f"{lines}\n{write_plan(small_plan())}"))
    assert isinstance(answer, Say)
    assert "80 mistakes" in answer.message.text and "longer list is in the file" in answer.message.text
    assert answer.message.files[0].data.decode().count("\n") == 79


async def test_no_file_at_all_is_told(nobody: Asking) -> None:
    assert "No file came with that" in (await nobody.message("plan.use")).text


@pytest.mark.parametrize("date", ["9999-12-31", "9999-01-01", "0001-01-01", "2027-02-29"])
async def test_a_date_from_which_no_days_can_be_counted_is_refused_in_words(begin: Begin, date: str) -> None:
    asking = await begin("drafting")
    form = await asking.form("plan.dates")
    fields = {one.key: one.value for one in form.fields if isinstance(one, TextField)}
    assert f"cannot read **{date}** as a date" in (await asking.message(form.key, fields=fields | {"date": date})).text
    text = write_plan(small_plan()).replace("2027-01-11", date)
    told = await asking.message("plan.use", uploads=plan_file(text))
    assert ("in the years 2000 to 2199" if date[:4] != "2027" else "cannot be read as TOML") in told.text
    typed = {"date": date, "time": "15:30", "zone": "UTC", "sections": "7-A, 7-B"}
    elsewhere = await asking.message("plan.begun", fields=typed, manages_server=True, server_id=8)
    assert f"cannot read **{date}** as a date" in elsewhere.text


async def begun(asking: Asking, **fields: str) -> str:
    typed = {"date": "2027-01-11", "time": "15:30", "zone": "America/New_York", "sections": "7-A, 7-B"}
    return (await asking.message("plan.begun", fields=typed | fields)).text


async def test_everything_wrong_in_the_first_form_is_said_at_once_and_brought_back(nobody: Asking) -> None:
    typed = {"date": "1/11/27", "time": "25:00", "zone": "New York", "sections": "7-A, 7-A"}
    answer = await nobody.message("plan.begun", fields=typed)
    for part in ("**1/11/27** as a date", "**25:00** as a time", "New York", "7-A"):
        assert part in answer.text
    form = await nobody.form(button(answer, "Correct it").key)
    assert [getattr(field, "value", "") for field in form.fields] == ["1/11/27", "25:00", "New York", "7-A, 7-A"]


async def test_a_brief_in_the_past_is_refused(nobody: Asking) -> None:
    assert "in the past" in await begun(nobody, date="2026-12-01")
    assert texts(await nobody.message("office"))[0] == "Begin a try-out"


async def test_only_who_manages_the_server_begins(nobody: Asking) -> None:
    assert "Only someone who manages this server" in (await nobody.message("plan.begun", 5, fields={})).text
    assert "No try-out is running" in (await nobody.message("office", 5)).text


async def test_a_second_try_out_cannot_begin_beside_the_first(nobody: Asking) -> None:
    await begun(nobody)
    assert "running here already" in await begun(nobody)
