"""Feedback for each squad: drafted, edited, sent once, only what was shown, and again after a correction."""

from datetime import timedelta

import bot.actions.results.announce
import bot.actions.results.feedback
import bot.actions.results.place_offers  # noqa: F401
from storage.records.message import TextField
from tests.actions.conftest import Begin, button
from tests.actions.results.test_place_offers import announced
from tests.actions.scored import whole
from tests.actions.table_help import labels


async def test_feedback_names_strengths_and_a_next_step_without_a_judge_or_another_squad(begin: Begin) -> None:
    asking, ids = await announced(begin)
    panel = await asking.message("feedback.panel")
    assert "0 of 3 sent" in panel.text
    read = await asking.message("feedback.squad", values=(str(ids[0]),))
    assert (
        "**What went well**\n• Communication (3.0 of 4): seen often\n\n**A next step**\n• Fits the theme" in read.text
    )
    assert "Judge" not in read.text and "Muddy Teapots" not in read.text


async def test_the_coach_edits_the_feedback_before_it_is_sent_once(begin: Begin) -> None:
    asking, ids = await announced(begin)
    form = await asking.form(f"feedback.edit:{ids[0]}")
    (field,) = form.fields
    assert isinstance(field, TextField) and field.value.startswith("Feedback for Crooked Spoons")
    drafted = await asking.message("feedback.squad", values=(str(ids[0]),))
    edited = await asking.message(form.key, fields={"text": "You listened to each other. Next: write more."})
    unsent = await asking.message(button(drafted, "Send").key)
    assert "has changed since you read it, so nothing was sent" in unsent.text and "You listened" in unsent.text
    assert "You listened to each other." in edited.text
    before = len(await asking.messages_to(f"squad/{ids[0]}"))
    await asking.ask(button(edited, "Send").key)
    letters = await asking.messages_to(f"squad/{ids[0]}")
    assert letters[before:] == ["💡 You listened to each other. Next: write more."]
    assert "has this feedback already" in (await asking.message(f"feedback.send:{ids[0]}")).text
    read = await asking.message("feedback.all:0")
    assert "This would be sent to 2 squads" in read.text
    assert "**Feedback for Muddy Teapots**" in read.text and "Crooked Spoons" not in read.text
    assert "sent to 2 squads" in (await asking.message(button(read, "Send all").key)).text
    assert "3 of 3 sent" in (await asking.message("feedback.panel")).text
    assert len(await asking.messages_to(f"squad/{ids[0]}")) == before + 1


async def test_all_drafts_are_shown_before_all_are_sent_and_only_those_that_were_shown(begin: Begin) -> None:
    asking, ids = await announced(begin, 8)
    page = await asking.message("feedback.all:0")
    shown = page.text
    while onward := [label for label in labels(page) if label.startswith("Next page")]:
        assert "Send all" not in labels(page)
        page = await asking.message(button(page, onward[0]).key)
        shown += page.text
    assert shown.count("**Feedback for ") == 8
    send = button(page, "Send all").key
    await asking.filled(f"feedback.edit:{ids[0]}", fields={"text": "You listened to each other."})
    again = await asking.message(send)
    assert "nothing was sent" in again.text and "You listened to each other." in again.text
    assert "0 of 8 sent" in (await asking.message("feedback.panel")).text


async def test_after_a_corrected_result_feedback_is_sent_again_where_it_says_something_else(begin: Begin) -> None:
    asking, squads = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    first, second, third = squads[:3]
    await asking.filled(f"feedback.edit:{third}", fields={"text": "You listened to each other. Well done!"})
    asking.now += timedelta(minutes=5)
    await asking.ask(button(await asking.message("feedback.all:0"), "Send all").key)
    sent = {squad: (await asking.messages_to(f"squad/{squad}"))[-1] for squad in squads}
    await asking.ask("results.taken-back", fields={"reason": "one count was wrong"})
    async with asking.store.write() as db:  # as when a judge opens a sheet again
        marks = '{"reasons": 1, "theme": 4}'
        await db.run("UPDATE sheet SET marks_json = ? WHERE squad_id = ? AND event = 'bunting'", marks, second)
    said = await asking.message(button(await asking.message("results.announce"), "Announce now").key)
    assert "The feedback that 2 squads got was for the earlier result." in said.text
    texts = (await asking.message("feedback.all:0")).text
    assert "Muddy Teapots" in texts and "You listened to each other" in texts and "Crooked Spoons" not in texts
    await asking.ask(button(await asking.message("feedback.all:0"), "Send all").key)
    assert (await asking.messages_to(f"squad/{first}"))[-1].startswith("🏁 **Your corrected result**")
    assert (await asking.messages_to(f"squad/{second}"))[-1] != sent[second]
    assert "Feedback for Muddy Teapots" in (await asking.messages_to(f"squad/{second}"))[-1]
    assert (await asking.messages_to(f"squad/{third}"))[-1] == sent[third]
