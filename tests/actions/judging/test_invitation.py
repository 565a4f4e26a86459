"""Judges are asked in the open, agree by a press, decline, and are asked again."""

import bot.actions.judging.calibration_trial
import bot.actions.judging.judge_reminders
import bot.actions.judging.paper_sheet_entry
import bot.actions.judging.paper_sheet_print
import bot.actions.judging.reopen_after_close
import bot.actions.judging.second_look
import bot.actions.judging.typed_marks  # noqa: F401
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.delivery import direct_messages
from bot.actions.delivery.destination import destination_of
from bot.words.judging import invitation as words
from storage.records.message import Message
from tests.actions.conftest import COACH, Begin, button
from tests.actions.judging_cast import ADA, CY, cast, enrol
from tests.actions.table_help import select


async def test_a_judge_who_was_asked_can_say_no_and_the_coach_hears_it_once(begin: Begin) -> None:
    found = await cast(begin, people=(ADA,))
    await enrol(found.asking, CY)
    tryout = await found.asking.tryout()
    invited = words.invitation(tryout, schedule_of(tryout), [await found.judge(CY)])
    assert f"<t:{int(schedule_of(tryout).judging_closes.timestamp())}:F>" in invited.text
    for _ in range(2):
        answer = await found.asking.message(button(invited, "Sorry, I can't").key, CY)
        assert "Your coach knows" in answer.text
    said = [text for text in await found.asking.messages_to("office") if "cannot be a judge" in text]
    assert len(said) == 1
    way = words.told_declined(await found.judge(CY))
    assert "Remove" in str(await found.asking.message(button(way, "Take off the judges").key))


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


async def test_a_judge_who_did_not_answer_is_asked_again(begin: Begin) -> None:
    asking = await begin("window")
    panel = await enrol(asking, ADA, CY)
    page = await asking.message("judges.one", COACH, values=(select(panel).choices[0].value,))
    await asking.message(button(page, "Ask again").key)
    assert len(await asking.messages_to("news")) == 2


async def test_pressing_start_again_tries_the_direct_messages_once_more(begin: Begin) -> None:
    found = await cast(begin)
    tryout, judge = await found.asking.tryout(), await found.judge(ADA)
    async with found.asking.store.write() as db:
        await direct_messages.closed(db, await destination_of(db, tryout.id, f"judge/{judge.id}"), found.asking.now)
    assert (await found.judge(ADA)).direct_closed_at is not None
    await found.asking.message("sheets.start", ADA, name="Ada")
    assert (await found.judge(ADA)).direct_closed_at is None
