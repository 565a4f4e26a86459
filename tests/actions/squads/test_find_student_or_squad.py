"""The coach finds a student or a squad by a few letters, in one step."""

from storage.records.message import Select
from tests.actions.conftest import Asking, Begin, button
from tests.actions.office_cast import make_squad
from tests.actions.squads.test_students_admin import entered


async def labels(asking: Asking, key: str, **fields: str) -> list[str]:
    message = await asking.message(key, fields=fields)
    return [one.label for row in message.rows if isinstance(row, Select) for one in row.choices]


async def scene(begin: Begin) -> Asking:
    asking = await begin()
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await make_squad(asking, 11, 3, "Muddy Teapots")
    for name in ("Nell Q", "Ann Nellson", "Anders"):
        await entered(asking, name)
    return asking


async def test_one_that_fits_is_shown_at_once(begin: Begin) -> None:
    asking = await scene(begin)
    form = await asking.form(button(await asking.message("people.panel"), "Find").key)
    assert "**Nell Q**, section 7-A" in (await asking.message(form.key, fields={"find": " nell q "})).text
    assert "**Muddy Teapots**, squad 2" in (await asking.message(form.key, fields={"find": "teapot"})).text


async def test_of_several_the_coach_picks_and_names_that_begin_so_come_first(begin: Begin) -> None:
    asking = await scene(begin)
    shown = await asking.message("find.found", fields={"find": "an"})
    menu = next(row for row in shown.rows if isinstance(row, Select))
    assert [one.label for one in menu.choices] == ["Anders", "Ann Nellson"]
    assert "**Anders**" in (await asking.message(menu.key, values=(menu.choices[0].value,))).text
    assert await labels(asking, "find.found", find="s") == [
        "Student 1", "Student 11", "Student 12", "Student 13", "Student 2", "Student 3", "Anders", "Ann Nellson",
        "Crooked Spoons", "Muddy Teapots",
    ]  # fmt: skip


async def test_what_is_typed_of_the_command_is_completed(begin: Begin) -> None:
    asking = await scene(begin)
    assert await labels(asking, "find.suggest", typed="nel") == ["Ann Nellson", "Nell Q"]
    assert await labels(asking, "find.suggest", typed="zz") == []
    assert len(await labels(asking, "find.suggest", typed="")) == 11


async def test_what_fits_nothing_or_is_forged_is_told(begin: Begin) -> None:
    asking = await scene(begin)
    assert "Nobody and no squad is called" in (await asking.message("find.found", fields={"find": "zz"})).text
    for forged in ("#px", "#q999999", "#p", "#q-1"):
        text = (await asking.message("find.found", values=(forged,))).text
        assert "out of date" in text or "no longer" in text, forged
