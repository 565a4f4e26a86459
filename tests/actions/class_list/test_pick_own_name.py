"""Students pick their own names from the class list; taken names are told to the coach."""

from storage.records.request import Person
from tests.actions.class_list.test_class_list_admin import BRIEF, attach, pick, students
from tests.actions.conftest import COACH, Begin, button, select
from tests.actions.office_cast import make_squad, texts, until


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
    entered = (await pick(asking, 1, "Ada B")).text
    assert "entered **Ada B** already" in entered
    assert entered.endswith("Once your coach has linked it, **My squad** shows how it goes on.")
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
