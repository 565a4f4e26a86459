"""The class list: attached, picked from, doubted, and erased with the rest."""

from datetime import UTC, datetime

from storage.records.message import Message, Select
from storage.records.request import Person, Upload
from tests.actions.conftest import COACH, Asking, Begin, button
from tests.actions.office_cast import make_squad, texts, until

CSV = b"name,section,form back,photos\nAda B,7-A,yes,no\nBo C,7-A,no,yes\nCy D,7-B,,\n"
BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


async def attach(asking: Asking, data: bytes = CSV) -> Message:
    form = await asking.form("class-list.file")
    return await asking.message(form.key, uploads={"list": Upload(name="class.csv", data=data, size=len(data))})


def select(message: Message, prompt: str) -> Select:
    return next(row for row in message.rows if isinstance(row, Select) and row.prompt == prompt)


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


async def test_a_list_with_mistakes_changes_nothing_and_names_them_all(begin: Begin) -> None:
    asking = await begin()
    said = await attach(asking, b"name,section,ok\nAda B,7-A,\nAda B,7-A,\nBo,9-Z,perhaps\n")
    assert "3 mistakes" in said.text and "Nothing has changed" in said.text
    assert "Row 3: **Ada B** of section 7-A stands in row 2 already" in said.text
    assert "Row 4: The plan has no section “9-Z”" in said.text and "“perhaps” under “ok”" in said.text
    assert "There is none" in (await asking.message("class-list.panel")).text


async def test_students_pick_themselves_and_the_coach_types_no_name(begin: Begin) -> None:
    asking = await begin()
    assert "The list is in: 3 names" in (await attach(asking)).text
    for press in ("squad.start", "squad.list", "squad.looking", "squad.code"):
        assert "Pick your section" in (await asking.message(press, 1)).text or press
        assert select(await asking.message(press, 1), "Pick your section").choices[0].label == "7-A"
    known = await pick(asking, 1, "Ada B")
    assert texts(known) == ["Start a squad", "Join a squad", "I need a squad"]
    form = await asking.form(button(known, "Start a squad").key, 1)
    assert [field.key for field in form.fields] == ["squad"]
    founded = await asking.message(form.key, 1, fields={"squad": "Crooked Spoons"})
    code = founded.text.split("code: **")[1][:5]
    await pick(asking, 2, "Bo C")
    form = await asking.form("squad.code", 2)
    assert [field.key for field in form.fields] == ["code"]
    await asking.ask(form.key, 2, fields={"code": code, "name": "Somebody Else"})
    assert await students(asking) == [("Ada B", "7-A", 1), ("Bo C", "7-A", 2)]
    panel = await asking.message("class-list.panel")
    assert "3 names; signed up: 2, not yet: 1." in panel.text
    assert "form back: yes for 1 of the 2 students" in panel.text


async def test_forms_sent_around_the_list_enter_nobody(begin: Begin) -> None:
    asking = await begin()
    await attach(asking)
    fields = {"squad": "Crooked Spoons", "name": "Zed", "section": "7-A", "code": "BCDHJ"}
    for form in ("squad.found", "student.enter:list", "student.enter:look"):
        assert "Who are you?" in (await asking.message(form, 9, fields=fields)).text
    assert await students(asking) == []


async def test_a_name_picked_twice_is_refused_and_the_coach_told_once(begin: Begin) -> None:
    asking = await begin()
    await attach(asking)
    await pick(asking, 1, "Ada B")
    for _ in range(2):
        assert "I have told your coach" in (await pick(asking, 2, "Ada B")).text
    told = await asking.messages_to("office")
    assert len(told) == 1 and "wants it too" in told[0]
    assert await students(asking) == [("Ada B", "7-A", 1)]
    assert "I know you as **Ada B**" in (await asking.message("class-list.section", 1, values=("0",))).text


async def test_a_borrowed_name_goes_back_to_its_owner(begin: Begin) -> None:
    asking = await begin()
    await attach(asking)
    await pick(asking, 666, "Ada B")
    founded = await asking.message("squad.found", 666, fields={"squad": "Crooked Spoons"})
    assert "captain" in founded.text
    async with asking.store.read() as db:
        ada = await db.value("SELECT id FROM student")
    card = await asking.message("people.student", values=(str(ada),))
    sure = await asking.message(button(card, "Let the account go").key)
    await asking.ask(button(sure, "Yes, let it go").key)
    assert "not in a squad" in (await asking.message("squad.mine", 666)).text
    assert "entered **Ada B** already" in (await pick(asking, 1, "Ada B")).text
    async with asking.store.read() as db:
        key = await db.value(
            "SELECT json_extract(message_json, '$.rows[0][0].key') FROM outbox_message WHERE address = 'office' "
            "ORDER BY id DESC LIMIT 1"
        )
    assert "now belongs to **Ada B**" in (await asking.message(key)).text
    assert "**Crooked Spoons**" in (await asking.message("squad.mine", 1)).text
    async with asking.store.read() as db:
        seats = {row["platform_id"]: row["wanted"] for row in await db.rows("SELECT * FROM room_seat")}
    assert seats == {100: 1, 666: 0, 1: 1}, "the coach is there, too"


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


async def test_who_had_signed_up_before_the_list_came_is_found_on_it_by_name(begin: Begin) -> None:
    asking = await begin()
    await asking.ask("squad.found", 1, fields={"squad": "Crooked Spoons", "name": "ada b", "section": "7-A"})
    await asking.ask("student.enter:look", 2, fields={"name": "Not Me", "section": "7-A"})
    said = await attach(asking)
    assert "Of those who had signed up before, 1 on it, 1 not." in said.text
    assert "not on the list: Not Me" in said.text


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


async def test_a_late_student_picks_a_name_and_the_coach_places_them(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    await make_squad(asking, 11, 3, "Crooked Spoons")
    await attach(asking)
    await until(asking, BRIEF)
    asked = await asking.message("student.late", 1)
    sections = select(asked, "Pick your section")
    names = select(await asking.message(sections.key, 1, values=("0",)), "Pick your name")
    told = await asking.message(names.key, 1, values=(names.choices[0].value,))
    assert "I have told your coach that you came late" in told.text
    assert any("**Ada B** of section 7-A came late" in said for said in await asking.messages_to("office"))


async def test_a_helper_cannot_pick_a_name(begin: Begin) -> None:
    asking = await begin()
    await attach(asking)
    await asking.ask("people.scorekeeper", COACH, people=(Person(id=300, name="Sam"),))
    assert "cannot be in a squad" in (await asking.message("class-list.section", 300, values=("0",))).text


async def test_erasing_a_student_takes_the_name_off_the_list_too(begin: Begin) -> None:
    asking = await begin()
    await attach(asking)
    await pick(asking, 1, "Ada B")
    await asking.ask("class-list.asked", 5, fields={"name": "Zed Y", "section": "7-B"})
    await asking.ask("people.account-forgotten:1")
    await asking.ask("people.account-forgotten:5")
    async with asking.store.read() as db:
        assert [row[0] for row in await db.rows("SELECT name FROM class_list_entry ORDER BY name")] == ["Bo C", "Cy D"]
        assert await db.value("SELECT count(*) FROM waiting_student") == 0


async def test_the_list_is_removed_and_anybody_can_sign_up_again(begin: Begin) -> None:
    asking = await begin()
    await attach(asking)
    sure = await asking.message("class-list.ask-remove")
    assert "There is none" in (await asking.message(button(sure, "Yes, remove").key)).text
    assert (await asking.form("squad.start", 1)).fields[1].key == "name"
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM class_list_entry") == 0


async def test_who_picks_one_taken_name_after_the_other_does_not_bury_the_office(begin: Begin) -> None:
    asking = await begin()
    await attach(asking, ("name,section\n" + "".join(f"Student {n},7-A\n" for n in range(10, 16))).encode())
    for number in range(10, 16):
        await pick(asking, number, f"Student {number}")
    before = len(await asking.messages_to("office"))
    said = [(await asking.message("class-list.me", 99, values=(str(entry),))).text for entry in range(1, 7)]
    assert ["I have told your coach" in text for text in said] == [True] * 3 + [False] * 3
    assert said[5] == "You have picked several names that are taken. Please talk to your coach."
    assert len(await asking.messages_to("office")) == before + 3
