"""The coach enrols judges; judges agree before anything is sent to them."""

from storage.records.message import Message
from storage.records.request import Person
from storage.tables import students
from tests.actions.conftest import COACH, Begin, button
from tests.actions.judging_cast import ADA, BEN, CY, cast, enrol, select, squad_called


async def test_a_judge_is_asked_in_the_open_and_only_that_person_is_rung(begin: Begin) -> None:
    asking = await begin("window")
    panel = await enrol(asking, ADA)
    assert "1. Judge 201: asked, has not pressed **Start judging** yet" in panel.text
    async with asking.store.read() as db:
        sent = await db.value("SELECT message_json FROM outbox_message WHERE address = 'news'")
    invitation = Message.model_validate_json(sent)
    assert invitation.ping == (ADA,)
    assert "<@201>: you are asked to be a judge" in invitation.text
    assert button(invitation, "Start judging").key == "sheets.start"


async def test_nothing_is_sent_to_a_judge_before_the_button_is_pressed(begin: Begin) -> None:
    found = await cast(begin, people=())
    await enrol(found.asking, ADA)
    await found.open()
    judge = await found.judge(ADA)
    assert await found.asking.messages_to(f"judge/{judge.id}") == []
    answer = await found.asking.message("sheets.start", ADA, name="Ada")
    assert "on its way to your private messages" in answer.text
    async with found.asking.store.read() as db:
        assert (
            await db.value("SELECT address FROM live_message WHERE key = ?", f"judge/{judge.id}") == f"judge/{judge.id}"
        )
    assert (await found.judge(ADA)).name == "Ada"


async def test_someone_who_is_no_judge_cannot_press_the_button(begin: Begin) -> None:
    found = await cast(begin)
    assert "Only a judge" in (await found.asking.message("sheets.start", 999)).text


async def test_only_a_coach_enrols_judges(begin: Begin) -> None:
    asking = await begin("window")
    picked = (Person(id=ADA, name="Ada"),)
    assert "Only a coach" in (await asking.message("judges.add", 999, people=picked)).text
    assert "Only a coach" in (await asking.message("judges.panel", 999)).text


async def test_a_program_cannot_judge(begin: Begin) -> None:
    asking = await begin("window")
    answer = await asking.message("judges.add", people=(Person(id=9, name="Beep", program=True),))
    assert "a program, not a person" in answer.text


async def test_a_judge_added_while_judging_runs_gets_the_sheets_at_once(begin: Begin) -> None:
    found = await cast(begin, people=(ADA,))
    await found.open()
    await enrol(found.asking, BEN)
    assert len(await found.sheets(BEN)) == 3


async def test_a_judge_removed_half_way_counts_no_more_and_comes_back_with_the_marks(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    await found.fill(ADA, "Crooked Spoons", {"reasons": 3, "theme": 4})
    ada = await found.judge(ADA)
    sure = await found.asking.message(f"judges.remove:{ada.id}")
    assert "1 sheet handed in will be kept" in sure.text
    panel = await found.asking.message(button(sure, "Yes, remove").key)
    assert "Judge 201" not in panel.text
    refused = await found.asking.message("sheets.mark", ADA, server_id=None)
    assert "Only a judge of this try-out" in refused.text
    await enrol(found.asking, ADA)
    assert (await found.judge(ADA)).number == ada.number
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {"reasons": 3, "theme": 4}


async def test_marks_of_a_judge_of_weight_0_are_shown_and_not_counted(begin: Begin) -> None:
    found = await cast(begin)
    ada = await found.judge(ADA)
    page = await found.asking.message("judges.one", values=(str(ada.id),))
    page = await found.asking.message(button(page, "Show, do not count").key)
    assert "**not counted**" in page.text
    assert (await found.judge(ADA)).weight == 0
    await found.asking.message(button(page, "Let marks count").key)
    assert (await found.judge(ADA)).weight == 1


async def test_a_judge_who_did_not_answer_is_asked_again(begin: Begin) -> None:
    asking = await begin("window")
    panel = await enrol(asking, ADA, CY)
    page = await asking.message("judges.one", COACH, values=(select(panel).choices[0].value,))
    await asking.message(button(page, "Ask again").key)
    assert len(await asking.messages_to("news")) == 2


async def test_someone_who_is_in_a_squad_cannot_judge(begin: Begin) -> None:
    found = await cast(begin, people=())
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        student_id = await students.enter_student(db, tryout.id, BEN, "Ben", "7-A")
        student = await students.student(db, student_id)
        assert student is not None
        await students.seat(db, student, await squad_called(db, "Crooked Spoons"), found.asking.now)
    answer = await enrol(found.asking, ADA, BEN)
    assert "**Judge 202** is in the squad **Crooked Spoons**. Whoever takes part cannot judge" in answer.text
    assert await found.asking.messages_to("news") == []


async def test_a_judge_who_joins_a_squad_later_is_never_given_that_squad(begin: Begin) -> None:
    found = await cast(begin)
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        student = await students.student(db, await students.enter_student(db, tryout.id, BEN, "Ben", "7-A"))
        assert student is not None
        await students.seat(db, student, await squad_called(db, "Crooked Spoons"), found.asking.now)
    await found.open()
    assert await found.sheet_or_none(BEN, "Crooked Spoons") is None
    assert len(await found.sheets(BEN)) == 2 and len(await found.sheets(ADA)) == 3
