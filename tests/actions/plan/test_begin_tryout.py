"""A try-out begins with dates that are typed; all mistakes are told at once."""

import pytest

from bot.rules.plan.read_plan import write_plan
from storage.records.message import TextField
from tests.actions.conftest import Asking, Begin, button, small_plan
from tests.actions.office_cast import plan_file, texts


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
