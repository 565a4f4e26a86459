"""One person's name is erased everywhere, and what stays says nothing of them."""

from datetime import timedelta

import pytest

from bot.actions.judging.judges_admin import enrol
from storage.records.request import Person
from storage.tables import judges, tryouts
from tests.actions.class_list.test_class_list_admin import attach, pick
from tests.actions.conftest import Begin, button
from tests.actions.hand_in_cast import DEADLINE, add, drawing, window
from tests.actions.office_cast import make_squad, until
from tests.actions.privacy.test_purge_tryout import BRIEF, START, answers, everything, sent
from tests.actions.questions_cast import ask, card, in_state, two_squads
from tests.actions.squads.test_life_of_squads import scene
from tests.actions.squads.test_students_admin import student_id
from tests.actions.squads.test_undo_correction import rows


async def test_a_student_erased_while_squads_may_change_is_gone_altogether(begin: Begin) -> None:
    asking = await begin()
    squad = await make_squad(asking, 1, 3, "Crooked Spoons")
    async with asking.store.write() as db:
        await db.run("UPDATE student SET name = 'Zora' WHERE platform_id = 1")
    await sent(asking)
    sure = await asking.message("people.forget-account", people=(Person(id=1, name="Zora"),))
    assert "everything is deleted" in sure.text
    told = await asking.message(button(sure, "Yes, erase").key)
    assert "The name is erased" in told.text
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM student") == 2
        assert await db.value("SELECT captain_id FROM squad WHERE id = ?", squad) is not None
    assert "not in a squad" in (await asking.message("squad.mine", 1)).text


async def test_a_student_erased_later_leaves_a_seat_without_a_name(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    squad = await make_squad(asking, 1, 3, "Crooked Spoons")
    async with asking.store.write() as db:
        await db.run("UPDATE student SET name = 'Zora Al' WHERE platform_id = 2")
        await db.run("UPDATE room_seat SET present = 1")
    await until(asking, BRIEF)
    async with asking.store.write() as db:
        said = "json_set(message_json, '$.text', 'Zora Al has joined')"
        await db.run(f"UPDATE outbox_message SET message_json = {said} WHERE id = 2")
    await sent(asking)
    async with asking.store.read() as db:
        zora = await db.value("SELECT id FROM student WHERE name = 'Zora Al'")
    sure = await asking.message(f"people.forget:{zora}")
    assert f"**Student {zora}**" in sure.text and "stays taken" in sure.text
    await asking.ask(button(sure, "Yes, erase").key)
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM student WHERE squad_id = ?", squad) == 3
        assert await db.value("SELECT count(*) FROM room_seat WHERE platform_id = 2") == 1
    assert "Zora" not in await everything(asking)
    async with asking.store.write() as db:
        # What the delivery worker does: the account is taken out of the room.
        await db.run("UPDATE room_seat SET wanted = 0, present = 0 WHERE platform_id = 2")
    await until(asking, asking.now + timedelta(hours=2))
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM room_seat WHERE platform_id = 2") == 0


async def test_a_judge_erased_keeps_the_marks_under_a_number(begin: Begin) -> None:
    asking = await begin("judging")
    async with asking.store.write() as db:
        judge = await enrol(db, (await tryouts.all_running(db))[0].id, 777, "Zebulon")
    sure = await asking.message("people.forget-account", people=(Person(id=777, name="Zebulon"),))
    assert "**Judge 1**" in sure.text
    await asking.ask(button(sure, "Yes, erase").key)
    async with asking.store.read() as db:
        kept = await judges.judge(db, judge)
        assert await judges.judge_of(db, 1, 777) is None
    assert kept is not None and kept.name == "Judge 1" and not kept.removed
    assert "Zebulon" not in await everything(asking)


async def test_a_coach_erased_is_no_coach_any_more(begin: Begin) -> None:
    asking = await begin()
    await asking.ask("people.coach", people=(Person(id=200, name="Zelda"),))
    await asking.ask("people.account-forgotten:200")
    assert "Only a coach" in (await asking.message("office", 200)).text
    assert "know nobody" in (await asking.message("people.account-forgotten:200")).text


async def test_part_of_a_word_is_not_taken_for_a_name(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 2, "Crooked Spoons")
    async with asking.store.write() as db:
        await db.run("UPDATE student SET name = 'Com' WHERE platform_id = 2")
    await sent(asking)
    before = await asking.messages_to("squad/1")
    await asking.ask("people.account-forgotten:2")
    assert before[0] in await asking.messages_to("squad/1")


@pytest.mark.parametrize("stays", [False, True])
async def test_whoever_is_erased_leaves_neither_words_nor_photo(begin: Begin, stays: bool) -> None:
    asking, _, _ = await window(begin)
    await add(asking, 1, photo=drawing())
    if stays:
        await until(asking, DEADLINE)
    await asking.ask("people.forgotten:1")
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM hand_in") == 0


async def test_who_recorded_an_attempt_is_erased_with_the_account(begin: Begin) -> None:
    asking = await begin("judging")
    await asking.ask("people.scorekeeper", people=(Person(id=777, name="Zebulon"),))
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET state = 'signup'")
    await asking.ask("squad.found", 1, fields=START)
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET state = 'judging'")
    await asking.ask("table.save:run.socks:1:1:3:0", 777)
    async with asking.store.read() as db:
        assert await db.value("SELECT recorded_by FROM attempt") == 777
    await asking.ask("people.account-forgotten:777")
    async with asking.store.read() as db:
        assert await db.value("SELECT recorded_by FROM attempt") == 0
        assert "777" not in await answers(asking)


async def test_erasing_a_student_erases_what_was_corrected(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 3, "Crooked Spoons")
    one = await student_id(asking, "Student 1")
    await asking.filled(f"correct.ask:{one}", fields={"name": "Stella One", "section": "7-A"})
    await asking.ask(f"people.forgotten:{one}")
    assert await rows(asking, "SELECT * FROM correction") == []


async def test_whoever_is_erased_leads_no_squad_and_the_seat_stays(begin: Begin) -> None:
    """Once squads are fixed the size stays; who joined first leads, so that somebody can answer for the squad."""
    asking = await scene(begin)
    gone = await student_id(asking, "Student 1")
    await asking.ask(f"people.forgotten:{gone}")
    mine = (await asking.message("squad.mine", 2)).text
    assert "Student 2 (captain)" in mine
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM student WHERE squad_id = 1") == 4
    assert "**Student 2** is captain now." in (await asking.messages_to("squad/1"))[-1]


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


async def test_who_asked_is_forgotten_with_the_name(begin: Begin) -> None:
    asking = await two_squads(begin)
    await ask(asking)
    await in_state(asking, "judging")
    await asking.ask("people.account-forgotten:1")
    office = await card(asking, "question/1")
    assert office is not None and "from squad 1" in office.text and "Student" not in office.text
    async with asking.store.read() as db:
        assert await db.value("SELECT student_id FROM rules_question") is None
