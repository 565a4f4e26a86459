"""A class list is attached, with all its mistakes told."""

from tests.actions.class_list.test_class_list_admin import attach
from tests.actions.conftest import Begin


async def test_a_list_with_mistakes_changes_nothing_and_names_them_all(begin: Begin) -> None:
    asking = await begin()
    said = await attach(asking, b"name,section,ok\nAda B,7-A,\nAda B,7-A,\nBo,9-Z,perhaps\n")
    assert "3 mistakes" in said.text and "Nothing has changed" in said.text
    assert "Row 3: **Ada B** of section 7-A stands in row 2 already" in said.text
    assert "Row 4: The plan has no section “9-Z”" in said.text and "“perhaps” under “ok”" in said.text
    assert "There is none" in (await asking.message("class-list.panel")).text


async def test_who_had_signed_up_before_the_list_came_is_found_on_it_by_name(begin: Begin) -> None:
    asking = await begin()
    await asking.ask("squad.found", 1, fields={"squad": "Crooked Spoons", "name": "ada b", "section": "7-A"})
    await asking.ask("student.enter:look", 2, fields={"name": "Not Me", "section": "7-A"})
    said = await attach(asking)
    assert "Of those who had signed up before, 1 on it, 1 not." in said.text
    assert "not on the list: Not Me" in said.text


async def test_a_form_without_a_file_is_told_what_a_class_list_is(begin: Begin) -> None:
    asking = await begin()
    form = await asking.form("class-list.file")
    said = (await asking.message(form.key)).text
    assert "I find no names in that file. Attach a CSV file or a workbook" in said and "plan" not in said
