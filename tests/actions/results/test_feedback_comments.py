"""What judges wrote reaches the squad through the coach, without a name; erasing a person covers it."""

import json

import bot.actions.privacy.erase_person
import bot.actions.results.announce
import bot.actions.results.feedback  # noqa: F401
from storage.records.message import Message, TextField
from storage.records.request import Person
from storage.tables import judges, score_sheets
from tests.actions.conftest import Asking, Begin, button
from tests.actions.results.test_place_offers import announced
from tests.actions.table_help import select


async def write(asking: Asking, judge: int, squad: int, **comments: str) -> None:
    """A judge's comments on a sheet for the bunting that is handed in."""
    async with asking.store.write() as db:
        for sheet in await score_sheets.sheets_of(db, judge):
            if (sheet.squad_id, sheet.event) == (squad, "bunting"):
                await score_sheets.save_sheet(db, sheet, "submitted", sheet.marks, comments, asking.now)


async def judge_ids(asking: Asking) -> list[int]:
    async with asking.store.read() as db:
        return [judge.id for judge in await judges.judges(db, 1)]


async def feedback_of(asking: Asking, squad: int) -> Message:
    return await asking.message(f"feedback.squad:{squad}")


async def test_the_coach_reads_all_comments_of_a_squad_and_ticks_what_goes_out_unsigned(begin: Begin) -> None:
    asking, ids = await announced(begin)
    one, two = await judge_ids(asking)
    await write(asking, one, ids[0], sheet="You asked everybody first.")
    await write(asking, two, ids[0], sheet="Bold colours!\nSay *why* it is red.")
    await write(asking, two, ids[1], sheet="Quite another squad.")
    panel = await asking.message("feedback.panel")
    assert [choice.note for choice in select(panel).choices] == [
        "draft; judges wrote 2 comments", "draft; judges wrote 1 comment", "draft",
    ]  # fmt: skip
    read = await feedback_of(asking, ids[0])
    assert "everybody" not in read.text
    found = await asking.message(button(read, "Judges' comments (2)").key)
    assert "You asked everybody first." in found.text and "Bold colours! Say \\*why\\* it is red." in found.text
    assert "Judge 1" not in found.text and "Judge 2" not in found.text and "another squad" not in found.text
    chosen = [choice.value for choice in select(found).choices if "Bold" in choice.label]
    ticked = await asking.message(select(found).key, values=tuple(chosen))
    assert [choice.chosen for choice in select(ticked).choices] == [True, False]
    read = await asking.message(button(ticked, "See the feedback").key)
    assert read.text.endswith("**From the judges**\n• “Bold colours! Say \\*why\\* it is red.”")
    await asking.ask(button(read, "Send").key)
    letter = (await asking.messages_to(f"squad/{ids[0]}"))[-1]
    assert "Bold colours!" in letter and "everybody" not in letter and "Judge" not in letter


async def test_a_tick_taken_away_takes_the_comment_out_and_an_edited_comment_stays_as_it_is(begin: Begin) -> None:
    asking, ids = await announced(begin)
    one, two = await judge_ids(asking)
    await write(asking, one, ids[0], sheet="First words.")
    await write(asking, two, ids[0], sheet="Second words.")
    before = (await feedback_of(asking, ids[0])).text
    found = await asking.message(f"feedback.comments:0:{ids[0]}")
    both = tuple(choice.value for choice in select(found).choices)
    await asking.ask(select(found).key, values=both)
    await asking.ask(select(found).key, values=())
    assert (await feedback_of(asking, ids[0])).text == before
    await asking.ask(select(found).key, values=both)
    form = await asking.form(f"feedback.edit:{ids[0]}")
    (field,) = form.fields
    assert isinstance(field, TextField)
    text = field.value.replace("Second words.", "Kinder words.")
    await asking.ask(form.key, fields={"text": text})
    await asking.ask(select(found).key, values=())
    text = (await feedback_of(asking, ids[0])).text
    assert "Kinder words." in text and "First words." not in text


async def test_long_comments_are_paged_and_too_many_for_one_message_are_refused(begin: Begin) -> None:
    asking, ids = await announced(begin)
    for number, judge in enumerate(await judge_ids(asking)):
        await write(asking, judge, ids[0], sheet=f"{number} " + "word " * 190)
    page = await asking.message(f"feedback.comments:0:{ids[0]}")
    assert "page 1 of 2" in page.text and len(select(page).choices) == 1
    await asking.ask(select(page).key, values=(select(page).choices[0].value,))
    page = await asking.message(button(page, "Next page 2 of 2").key)
    refused = await asking.message(select(page).key, values=(select(page).choices[0].value,))
    assert "too long for one message" in refused.text
    assert "0 word" in (await feedback_of(asking, ids[0])).text


async def test_a_name_that_is_erased_goes_out_of_comments_and_feedback_and_a_judges_comments_go_with_the_judge(
    begin: Begin,
) -> None:
    asking, ids = await announced(begin)
    one, two = await judge_ids(asking)
    async with asking.store.write() as db:
        await db.run("UPDATE student SET name = 'Zora Quist' WHERE id = (SELECT min(id) FROM student)")
        account = await db.value("SELECT platform_id FROM student WHERE name = 'Zora Quist'")
    await write(asking, one, ids[0], sheet="Zora Quist spoke well.")
    await write(asking, two, ids[0], sheet="All spoke well.")
    found = await asking.message(f"feedback.comments:0:{ids[0]}")
    await asking.ask(select(found).key, values=tuple(choice.value for choice in select(found).choices))
    sure = await asking.message("people.forget-account", people=(Person(id=account, name="Zora"),))
    await asking.ask(button(sure, "Yes, erase").key)
    async with asking.store.read() as db:
        kept = [json.loads(row[0]) for row in await db.rows("SELECT comments_json FROM sheet WHERE judge_id = ?", one)]
        texts = [row[0] for row in await db.rows("SELECT text FROM feedback")]
    assert {"sheet": "(erased) spoke well."} in kept
    assert any("“(erased) spoke well.”" in text for text in texts) and "Zora" not in "".join(texts)
    sure = await asking.message("people.forget-account", people=(Person(id=202, name="Judge 2"),))
    assert "comments are deleted" in sure.text
    await asking.ask(button(sure, "Yes, erase").key)
    async with asking.store.read() as db:
        left = [row[0] for row in await db.rows("SELECT comments_json FROM sheet WHERE judge_id = ?", two)]
        versions = [
            row[0]
            for row in await db.rows(
                "SELECT comments_json FROM sheet_version WHERE sheet_id IN (SELECT id FROM sheet WHERE judge_id = ?)",
                two,
            )
        ]
    assert set(left) == {"{}"} == set(versions)
