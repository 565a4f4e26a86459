"""The coach answers questions about the rules: published, merged, corrected, or set aside and deleted."""

from tests.actions.conftest import Begin, button
from tests.actions.office_cast import texts
from tests.actions.questions_cast import AGAIN, WHEELS, YES, answered, ask, card, in_state, preview, stored, two_squads


async def test_the_same_question_of_another_squad_is_merged_and_not_published_again(begin: Begin) -> None:
    asking = await two_squads(begin)
    await ask(asking)
    await ask(asking, AGAIN, 11)
    assert "No answer has been published" in (await asking.message("rules.merge:2")).text
    await answered(asking)
    offered = await asking.message("rules.merge:2")
    assert AGAIN in offered.text
    sure = await asking.message("rules.merge-with:2", values=("1",))
    assert AGAIN in sure.text and YES in sure.text
    await asking.message(button(sure, "Yes, it does").key)
    assert len(await asking.messages_to("news")) == 1
    (pointer,) = await asking.messages_to("squad/2")
    assert "**Rules question 1**" in pointer and f"> {pointer}" in sure.text
    assert await asking.messages_to("squad/1") == []
    settled = await card(asking, "question/2")
    assert settled is not None and "had its answer already" in settled.text
    assert await stored(asking, AGAIN) == 0


async def test_a_correction_is_a_new_version_that_says_what_changed(begin: Begin) -> None:
    asking = await two_squads(begin)
    await ask(asking)
    await answered(asking)
    form = await asking.form("rules.correct", values=("1",))
    assert [getattr(field, "value", "") for field in form.fields] == [WHEELS, YES, ""]
    same = await asking.message(form.key, fields={"question": WHEELS, "answer": YES, "change": "nothing"})
    assert "Nothing was changed" in same.text
    fields = {"question": WHEELS, "answer": "Yes, twice.", "change": "twice, not as often as you like"}
    assert "what changed" in (await asking.message(form.key, fields=fields | {"change": " "})).text
    sure = await asking.message(form.key, fields=fields)
    await asking.message(button(sure, "Publish").key)
    (_, second) = await asking.messages_to("news")
    assert second.startswith("💬 **Rules question 1** (corrected)") and second in sure.text
    assert "What changed: twice, not as often" in second and "Yes, twice." in second
    pinned = await card(asking, "rules")
    assert pinned is not None and "Yes, twice." in pinned.text and YES not in pinned.text
    async with asking.store.read() as db:
        rows = await db.rows("SELECT version, answer FROM rules_answer ORDER BY version")
    assert [tuple(row) for row in rows] == [(1, YES), (2, "Yes, twice.")]


async def test_what_was_written_waits_for_the_coach_and_old_buttons_publish_nothing(begin: Begin) -> None:
    asking = await two_squads(begin)
    await ask(asking)
    first = await preview(asking)
    second = await preview(asking, answer="No.")
    form = await asking.form(button(second, "Change it").key)
    assert [getattr(field, "value", "") for field in form.fields] == [WHEELS, "No."]
    assert "does not wait any more" in (await asking.message(button(first, "Publish").key)).text
    await asking.message(button(second, "Publish").key)
    assert "does not wait any more" in (await asking.message(button(second, "Publish").key)).text
    assert len(await asking.messages_to("news")) == 1
    assert "dealt with already" in (await preview(asking)).text


async def test_a_number_that_was_taken_meanwhile_is_shown_anew_before_it_is_said(begin: Begin) -> None:
    asking = await two_squads(begin)
    await ask(asking)
    await ask(asking, AGAIN, 11)
    first, second = await preview(asking, 1), await preview(asking, 2, text=AGAIN)
    await asking.message(button(first, "Publish").key)
    anew = await asking.message(button(second, "Publish").key)
    assert "**Rules question 2**" in anew.text and len(await asking.messages_to("news")) == 1
    await asking.message(button(anew, "Publish").key)
    assert (await asking.messages_to("news"))[1].startswith("💬 **Rules question 2**")


async def test_a_question_asked_in_class_is_answered_for_everyone_too(begin: Begin) -> None:
    asking = await two_squads(begin)
    panel = await asking.message("rules.panel")
    form = await asking.form(button(panel, "Answer a question from class").key)
    sure = await asking.message(form.key, fields={"question": "Is tape allowed?", "answer": "Yes."})
    kept = await asking.form(button(sure, "Change it").key)
    assert [getattr(field, "value", "") for field in kept.fields] == ["Is tape allowed?", "Yes."]
    await asking.message(button(sure, "Publish").key)
    assert (await asking.messages_to("news"))[0].startswith("💬 **Rules question 1**\n> Is tape allowed?")


async def test_set_aside_deletes_the_text_everywhere_and_tells_nobody(begin: Begin) -> None:
    asking = await two_squads(begin)
    secret = "Why is Zacharias so mean to me?"
    await ask(asking, secret)
    await preview(asking, text=secret, answer="Zacharias will hear from me.")
    assert await stored(asking, "Zacharias") > 0
    sure = await asking.message("rules.aside:1")
    assert secret in sure.text and "nothing is said to the squad" in sure.text
    await asking.message(button(sure, "Set aside").key)
    assert await stored(asking, "Zacharias") == 0
    assert await asking.messages_to("news") == await asking.messages_to("squad/1") == []
    settled = await card(asking, "question/1")
    assert settled is not None and "set aside" in settled.text and "Student" not in settled.text
    assert "dealt with already" in (await asking.message("rules.aside:1")).text


async def test_what_waits_at_the_close_of_judging_can_still_be_answered(begin: Begin) -> None:
    asking = await two_squads(begin)
    await ask(asking)
    await in_state(asking, "settled")
    await answered(asking)
    assert len(await asking.messages_to("news")) == 1


async def test_an_answer_that_names_the_surprise_is_read_twice(begin: Begin) -> None:
    asking = await two_squads(begin)
    await ask(asking)
    assert "names the surprise" not in (await preview(asking)).text
    assert "names the surprise" in (await preview(asking, answer="As in the paper chain.")).text
    await asking.ask("surprise.start:chain")
    assert "names the surprise" not in (await preview(asking, answer="As in the paper chain.")).text


async def test_the_panel_opens_a_question_with_the_same_three_ways(begin: Begin) -> None:
    asking = await two_squads(begin)
    await ask(asking)
    opened = await asking.message("rules.question", values=("1",))
    assert WHEELS in opened.text
    assert texts(opened) == ["Answer", "Merge with an earlier answer", "Set aside", "Rules questions", "Office"]


async def test_an_answer_that_would_not_fit_its_message_is_refused_and_nothing_is_kept(begin: Begin) -> None:
    asking = await two_squads(begin)
    await ask(asking)
    assert "too long for one message" in (await preview(asking, answer="*" * 1000)).text
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM rules_draft") == 0
