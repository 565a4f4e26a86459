"""Whoever is not on the class list waits until the coach has decided."""

from tests.actions.class_list.test_class_list_admin import attach, students
from tests.actions.conftest import Begin, button, select


async def test_a_stranger_waits_until_the_coach_has_decided(begin: Begin) -> None:
    asking = await begin()
    await attach(asking)
    asked = await asking.message("squad.start", 5)
    form = await asking.form(button(asked, "My name is not there").key, 5)
    said = await asking.message(form.key, 5, fields={"name": "Zed Y", "section": "7-B"})
    assert "I have told your coach" in said.text
    await asking.ask(form.key, 5, fields={"name": "Zed Y", "section": "7-A"})
    assert len(await asking.messages_to("office")) == 1
    assert await students(asking) == []
    panel = await asking.message("class-list.panel")
    waiting = await asking.message(button(panel, "Waiting: 1").key)
    one = await asking.message("class-list.waits", values=(select(waiting, "Pick a student").choices[0].value,))
    assert [choice.label for choice in select(one, "This is somebody on the list").choices] == ["Ada B", "Bo C"]
    await asking.ask(button(one, "Let in under this name").key)
    assert await students(asking) == [("Zed Y", "7-A", 5)]
    assert (await asking.form("squad.start", 5)).title == "Start a squad"


async def test_a_stranger_is_somebody_on_the_list_or_is_turned_away(begin: Begin) -> None:
    asking = await begin()
    await attach(asking)
    for who, name in ((5, "Addy"), (6, "Nobody")):
        await asking.ask("class-list.asked", who, fields={"name": name, "section": "7-A"})
    one = await asking.message("class-list.waits:1")
    same = select(one, "This is somebody on the list")
    await asking.ask(same.key, values=(same.choices[0].value,))
    assert await students(asking) == [("Ada B", "7-A", 5)]
    away = (await asking.message("class-list.turn-away:2")).text
    assert "turned away, and what was typed is erased. I do not write to the student: please say why." in away
    assert "waits no more" in (await asking.message("class-list.turn-away:2")).text
    assert await students(asking) == [("Ada B", "7-A", 5)]


async def test_of_a_large_section_every_name_can_be_the_one_of_a_stranger(begin: Begin) -> None:
    asking = await begin()
    names = [f"Ada {letter}{other}" for letter in "ABCDEF" for other in "abcde"]
    await attach(asking, "\n".join(("name,section", *(f"{name},7-A" for name in names))).encode())
    await asking.ask("class-list.asked", 5, fields={"name": "Addy", "section": "7-A"})
    one = await asking.message("class-list.waits:1")
    rest = await asking.message(button(one, "Next page 2 of 2").key)
    shown = [choice for page in (one, rest) for choice in select(page, "This is somebody on the list").choices]
    assert [choice.label for choice in shown] == names
    await asking.ask(select(rest, "This is somebody on the list").key, values=(shown[-1].value,))
    assert await students(asking) == [("Ada Fe", "7-A", 5)]
