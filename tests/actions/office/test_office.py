"""The office leads from step to step, and says what is worth knowing before each."""

from storage.records.message import Open, Replace, Say
from tests.actions.conftest import Asking, Begin, button
from tests.actions.office_cast import choose_rooms, make_squad, texts
from tests.actions.plan.test_begin_tryout import begun


async def test_a_manager_begins_and_is_led_from_step_to_step(nobody: Asking) -> None:
    office = await nobody.message("office")
    assert texts(office) == ["Begin a try-out", "Use a plan file", "Last year's plan"]
    form = await nobody.form(button(office, "Begin a try-out").key)
    assert [field.label for field in form.fields] == ["Date of the brief", "Time of the brief", "Time zone", "Sections"]
    assert "students see nothing yet" in await begun(nobody)
    office = await nobody.message("office")
    assert texts(office)[0] == "Choose the channels"
    assert "Choose the channels for sign-up, news, squads and office" in office.text
    assert "I may do everything I need there" in await choose_rooms(nobody)
    office = await nobody.message("office")
    sure = await nobody.message(button(office, "Open sign-up").key)
    said = sure.text.split("> ")[1].split("\n")[0]
    await nobody.message(button(sure, "Yes, open sign-up").key)
    assert (await nobody.messages_to("news"))[0].startswith(said)
    assert (await nobody.tryout()).state == "signup"
    async with nobody.store.read() as db:
        cards = await db.rows("SELECT key, address, pinned FROM live_message ORDER BY key")
    assert [tuple(row) for row in cards] == [("roster/1", "signup", 0), ("signup", "signup", 1)]
    assert "Release the brief now" in texts(await nobody.message("office"))


async def test_the_office_names_what_is_worth_knowing_before_the_brief(begin: Begin) -> None:
    asking = await begin("signup")
    await make_squad(asking, 1, 2, "Muddy Teapots")
    await asking.ask("student.enter:look", 9, fields={"name": "Ada", "section": "7-B"})
    text = (await asking.message("office")).text
    assert "Too small (fewer than 3 members): Muddy Teapots" in text
    assert "Students without a squad: 1" in text
    assert "There are no judges yet" in text
    assert "1 squad with 2 students; 1 without a squad" in text


async def test_the_office_opens_privately_and_turns_in_place(begin: Begin) -> None:
    asking = await begin("signup")
    office = await asking.ask("office")
    assert isinstance(office, Say) and office.private
    assert isinstance(await asking.ask("office.again"), Replace)
    assert not isinstance(await asking.ask("plan.panel"), Open)
