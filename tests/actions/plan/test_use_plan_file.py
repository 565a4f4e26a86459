"""A try-out begins with a plan file; all mistakes of a file are told at once."""

from datetime import datetime

from bot.rules.plan.read_plan import write_plan
from storage.records.message import Say
from storage.records.plan import Calendar
from tests.actions.conftest import Asking, small_plan
from tests.actions.office_cast import plan_file


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
