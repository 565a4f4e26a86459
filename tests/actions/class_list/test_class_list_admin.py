"""The class list as the coach looks after it, and removed."""

from datetime import UTC, datetime

from storage.records.message import Message
from storage.records.request import Upload
from tests.actions.conftest import Asking, Begin, button, select
from tests.actions.office_cast import make_squad

CSV = b"name,section,form back,photos\nAda B,7-A,yes,no\nBo C,7-A,no,yes\nCy D,7-B,,\n"
BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


async def attach(asking: Asking, data: bytes = CSV) -> Message:
    form = await asking.form("class-list.file")
    return await asking.message(form.key, uploads={"list": Upload(name="class.csv", data=data, size=len(data))})


async def pick(asking: Asking, who: int, name: str, section: str = "7-A") -> Message:
    """A student presses Join a squad and picks a name."""
    asked = await asking.message("squad.list", who)
    sections = select(asked, "Pick your section")
    place = next(one.value for one in sections.choices if one.label == section)
    listed = await asking.message(sections.key, who, values=(place,))
    names = select(listed, "Pick your name")
    return await asking.message(names.key, who, values=(next(one.value for one in names.choices if one.label == name),))


async def students(asking: Asking) -> list[tuple[object, ...]]:
    async with asking.store.read() as db:
        return [tuple(row) for row in await db.rows("SELECT name, section, platform_id FROM student ORDER BY id")]


async def test_without_a_list_everything_is_as_it_was(begin: Begin) -> None:
    asking = await begin()
    panel = await asking.message(button(await asking.message("people.panel"), "Class list").key)
    assert "There is none" in panel.text
    assert "anybody on this server can look through the names" in panel.text
    assert (await asking.form("squad.start", 1)).title == "Start a squad"


async def test_a_student_without_an_account_is_entered_from_the_list_and_placed(begin: Begin) -> None:
    asking = await begin()
    squad = await make_squad(asking, 11, 2, "Crooked Spoons", "7-B")
    await attach(asking)
    listed = await asking.message("class-list.not-here:0")
    entering = select(listed, "Enter these students")
    cy = next(one.value for one in entering.choices if one.label == "Cy D")
    assert "Entered: Cy D." in (await asking.message(entering.key, values=(cy,))).text
    async with asking.store.read() as db:
        student = await db.value("SELECT id FROM student WHERE name = 'Cy D'")
    await asking.ask(f"people.placed:{student}", values=(str(squad),))
    forms = await asking.message("class-list.forms")
    assert "1 missing in **Crooked Spoons**" in forms.text
    card = await asking.message("people.student", values=(str(student),))
    ticks = select(card, "What has a yes?")
    after = await asking.message(ticks.key, values=("0",))
    assert [one.chosen for one in select(after, "What has a yes?").choices] == [True, False]
    said = (await asking.message("class-list.forms")).text
    assert "**form back**\n- yes for everybody" in said


async def test_the_columns_are_seen_by_coaches_only(begin: Begin) -> None:
    asking = await begin()
    await attach(asking)
    await pick(asking, 1, "Ada B")
    await asking.ask("squad.found", 1, fields={"squad": "Crooked Spoons"})
    for press in ("squad.mine", "squad.list", "class-list.panel", "class-list.forms"):
        assert "form back" not in str(await asking.message(press, 1))
    async with asking.store.read() as db:
        said = [row[0] for row in await db.rows("SELECT message_json FROM outbox_message WHERE address <> 'office'")]
    assert "form back" not in "".join(said)


async def test_the_list_is_removed_nobody_waits_and_anybody_can_sign_up_again(begin: Begin) -> None:
    asking = await begin()
    await attach(asking)
    await asking.ask("class-list.asked", 5, fields={"name": "Zed Y", "section": "7-B"})
    sure = await asking.message("class-list.ask-remove")
    assert "There is none" in (await asking.message(button(sure, "Yes, remove").key)).text
    assert (await asking.form("squad.start", 1)).fields[1].key == "name"
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM class_list_entry") == 0
        assert await db.value("SELECT count(*) FROM waiting_student") == 0
