"""One score sheet: opened as forms, saved step by step, on two devices, and changed by nobody else."""

import json
from datetime import timedelta

from bot.actions.core.dispatch import ACTIONS, perform
from bot.rules.core.hash_chain import broken_at
from bot.rules.delivery.sending_limits import EPOCH_MS
from bot.rules.judging.marks_fingerprint import marks_fingerprint
from bot.words.core.custom_ids import split
from storage.records.message import RadioField, Replace, Say
from storage.records.request import Request
from storage.tables import audit_log
from tests.actions.conftest import Begin, button
from tests.actions.judging_cast import ADA, BEN, LEVELS, SQUADS, Cast, cast, living, long_rubric


async def test_one_press_opens_the_next_sheet_as_a_form_with_levels_and_descriptors(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    onward = (await living(found, ADA)).rows[0]
    assert isinstance(onward, tuple) and onward[0].label in {f"Next: {name}, Bunting" for name in SQUADS}
    form = await found.asking.form(onward[0].key, ADA, server_id=None)
    radio = form.fields[0]
    assert isinstance(radio, RadioField)
    assert [(choice.label, choice.note) for choice in radio.choices] == [
        (f"{level} of 4", text) for level, text in enumerate(LEVELS, start=1)
    ]
    assert [field.label for field in form.fields] == ["Written reasons", "Fits the theme", "Comment"]


async def test_a_whole_form_hands_the_sheet_in_and_the_list_shows_it(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    answer = await found.fill(ADA, "Muddy Teapots", {"reasons": 3, "theme": 4}, comment="Tell why the red is red.")
    assert "Saved: **Muddy Teapots**, 2 of 2 marked." in answer.text
    assert "1 of 3 sheets done" in answer.text
    sheet = await found.sheet(ADA, "Muddy Teapots")
    assert (sheet.state, sheet.marks) == ("submitted", {"reasons": 3, "theme": 4})
    assert sheet.comments == {"sheet": "Tell why the red is red."}
    assert "Done: Muddy Teapots" in (await living(found, ADA)).text


async def listed(found: Cast, who: int, age: timedelta) -> int:
    """The id of a judge's list that was posted some time ago."""
    judge = await found.judge(who)
    message_id = (int((found.asking.now - age).timestamp() * 1000) - EPOCH_MS) << 22
    async with found.asking.store.write() as db:
        await db.run("UPDATE live_message SET message_id = ? WHERE key = ?", message_id, f"judge/{judge.id}")
    return message_id


async def test_a_list_too_old_to_be_edited_often_stays_and_the_answer_comes_beside_it(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    old = await listed(found, ADA, timedelta(days=2))
    await found.fill(ADA, "Muddy Teapots", {"reasons": 3}, message_id=old)
    answer = found.asking.answers[-1]
    assert isinstance(answer, Say) and answer.private
    assert answer.message.text.startswith("Saved: **Muddy Teapots**, 1 of 2 marked.")


async def test_a_press_in_the_living_list_changes_that_list_in_place(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    message_id = await listed(found, ADA, timedelta(minutes=5))
    await found.fill(ADA, "Muddy Teapots", {"reasons": 3}, message_id=message_id)
    answer = found.asking.answers[-1]
    assert isinstance(answer, Replace)
    assert answer.message == await living(found, ADA)
    assert "Saved: **Muddy Teapots**, 1 of 2 marked. Go on now or any other day." in answer.message.text
    assert button(answer.message, "Go on: Muddy Teapots, Bunting").key.startswith("sheets.mark:")


async def test_a_half_marked_sheet_is_safe_and_goes_on_days_later_where_it_stopped(begin: Begin) -> None:
    found = await cast(begin, events=(long_rubric(8),))
    await found.open()
    first = await found.fill(ADA, "Sleepy Turnips", {"c0": 1, "c1": 2, "c2": 3})
    assert "Still to mark: Criterion 3" in first.text
    sheet = await found.sheet(ADA, "Sleepy Turnips")
    assert (sheet.state, sheet.marks) == ("started", {"c0": 1, "c1": 2, "c2": 3})
    form = await found.asking.form(button(first, "Go on: Sleepy Turnips, Bunting").key, ADA, server_id=None)
    assert form.title.endswith("(1 of 2)")
    form = await found.asking.form(f"sheets.step:{sheet.id}:1", ADA, server_id=None)
    assert form.title.endswith("(2 of 2)")
    await found.submit(ADA, form, {"c4": 4, "c5": 4, "c6": 1, "c7": 2})
    last = await found.fill(ADA, "Sleepy Turnips", {"c3": 2})
    assert "8 of 8 marked" in last.text
    assert (await found.sheet(ADA, "Sleepy Turnips")).state == "submitted"


async def test_every_opening_shows_what_was_saved(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    await found.fill(ADA, "Crooked Spoons", {"reasons": 3})
    sheet = await found.sheet(ADA, "Crooked Spoons")
    form = await found.asking.form(f"sheets.mark:{sheet.id}", ADA, server_id=None)
    radio = form.fields[0]
    assert isinstance(radio, RadioField)
    assert [choice.chosen for choice in radio.choices] == [False, False, True, False]


async def test_comments_can_stand_beside_each_criterion(begin: Begin) -> None:
    found = await cast(begin, events=(long_rubric(3, "criterion"),))
    await found.open()
    sheet = await found.sheet(ADA, "Crooked Spoons")
    form = await found.asking.form(f"sheets.mark:{sheet.id}", ADA, server_id=None)
    assert [field.label for field in form.fields] == [
        "Criterion 0", "Why? (Criterion 0)", "Criterion 1", "Why? (Criterion 1)",
    ]  # fmt: skip
    await found.submit(ADA, form, {"c0": 1, "c1": 2}, comment="Seen on the back.")
    assert (await found.sheet(ADA, "Crooked Spoons")).comments == {"c0": "Seen on the back.", "c1": "Seen on the back."}


async def test_nobody_opens_or_fills_the_sheet_of_another_judge(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    sheet = await found.sheet(ADA, "Crooked Spoons")
    for key in (f"sheets.mark:{sheet.id}", f"sheets.step:{sheet.id}:0", f"sheets.save:{sheet.id}:0:0:1"):
        answer = await found.asking.message(key, BEN, fields={"level-reasons": "1"}, server_id=None)
        assert "no longer yours to mark" in answer.text
    looked = await found.asking.message("sheets.look", BEN, values=(str(sheet.id),))
    assert "no longer yours to mark" in looked.text
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {}


async def test_a_level_that_is_none_is_refused(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    sheet = await found.sheet(ADA, "Crooked Spoons")
    for level in ("0", "5", "x", "²"):
        answer = await found.asking.message(
            f"sheets.save:{sheet.id}:0:0:1", ADA, fields={"level-reasons": level}, server_id=None
        )
        assert "has the levels 1 to 4" in answer.text


async def test_a_list_in_a_room_of_the_class_server_is_left_to_the_courier(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    message_id = await listed(found, ADA, timedelta(minutes=5))
    sheet = await found.sheet(ADA, "Muddy Teapots")
    form = await found.asking.form(f"sheets.mark:{sheet.id}", ADA)
    await found.submit_here(ADA, form, {"reasons": 3}, message_id=message_id)
    assert isinstance(found.asking.answers[-1], Say)
    async with found.asking.store.read() as db:
        assert await db.value("SELECT stale FROM live_message WHERE message_id = ?", message_id) > 0


async def test_any_part_of_a_sheet_that_is_done_can_be_changed(begin: Begin) -> None:
    found = await cast(begin, events=(long_rubric(6),))
    await found.open()
    sheet = await found.sheet(ADA, "Crooked Spoons")
    for number in (0, 1):
        form = await found.asking.form(f"sheets.step:{sheet.id}:{number}", ADA, server_id=None)
        await found.submit(ADA, form, {f"c{line}": 1 for line in range(6)})
    page = await found.asking.message("sheets.look", ADA, values=(str(sheet.id),), server_id=None)
    form = await found.asking.form(button(page, "Change part 2").key, ADA, server_id=None)
    await found.submit(ADA, form, {"c4": 4})
    assert (await found.sheet(ADA, "Crooked Spoons")).marks["c4"] == 4
    assert (await found.sheet(ADA, "Crooked Spoons")).state == "submitted"


async def test_two_devices_on_one_sheet_lose_nothing_and_the_judge_is_told(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    sheet = await found.sheet(ADA, "Crooked Spoons")
    phone = await found.asking.form(f"sheets.mark:{sheet.id}", ADA, server_id=None)
    laptop = await found.asking.form(f"sheets.mark:{sheet.id}", ADA, server_id=None)
    assert phone.key != laptop.key
    await found.submit(ADA, laptop, {"reasons": 2, "theme": 2})
    answer = await found.submit(ADA, phone, {"reasons": 4, "theme": 2})
    assert (
        "**Written reasons** had been changed to 2 while this form was open. Your newest mark stands: 4" in answer.text
    )
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {"reasons": 4, "theme": 2}
    async with found.asking.store.read() as db:
        kept = await db.rows("SELECT marks_json FROM sheet_version WHERE sheet_id = ? ORDER BY version", sheet.id)
    assert [row[0] for row in kept] == ['{"reasons": 2, "theme": 2}', '{"reasons": 4, "theme": 2}']


async def test_one_step_on_each_of_two_devices_adds_up(begin: Begin) -> None:
    found = await cast(begin, events=(long_rubric(6),))
    await found.open()
    sheet = await found.sheet(ADA, "Crooked Spoons")
    first = await found.asking.form(f"sheets.step:{sheet.id}:0", ADA, server_id=None)
    second = await found.asking.form(f"sheets.step:{sheet.id}:1", ADA, server_id=None)
    await found.submit(ADA, second, {"c3": 1, "c4": 1, "c5": 1})
    answer = await found.submit(ADA, first, {"c0": 4, "c1": 4, "c2": 4})
    assert "6 of 6 marked" in answer.text and "had been changed" not in answer.text


async def test_the_same_form_submitted_twice_is_one_version(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    sheet = await found.sheet(ADA, "Crooked Spoons")
    form = await found.asking.form(f"sheets.mark:{sheet.id}", ADA, server_id=None)
    await found.submit(ADA, form, {"reasons": 2, "theme": 2})
    await found.submit(ADA, form, {"reasons": 2, "theme": 2})
    assert (await found.sheet(ADA, "Crooked Spoons")).version == 1


async def test_a_press_delivered_twice_acts_once(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    sheet = await found.sheet(ADA, "Crooked Spoons")
    form = await found.asking.form(f"sheets.mark:{sheet.id}", ADA, server_id=None)
    action, args = split(form.key)
    assert action is not None
    request = Request(
        id=5, at=found.asking.now, who=ADA, name="Ada", args=args, fields={"level-reasons": "2", "level-theme": "1"}
    )
    first = await perform(found.asking.store, ACTIONS[action], request)
    assert await perform(found.asking.store, ACTIONS[action], request) == first
    assert (await found.sheet(ADA, "Crooked Spoons")).version == 1


async def test_every_version_is_kept_and_sealed_in_the_trail(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    for level in (1, 2, 3):
        await found.fill(ADA, "Crooked Spoons", {"reasons": level, "theme": 1})
    sheet = await found.sheet(ADA, "Crooked Spoons")
    async with found.asking.store.read() as db:
        kept = await db.rows("SELECT version, marks_json FROM sheet_version WHERE sheet_id = ?", sheet.id)
        entries = await audit_log.entries(db)
    sealed = [entry.details["seal"] for entry in entries if entry.action == "sheet.save"]
    assert sealed == [marks_fingerprint(sheet.id, row["version"], json.loads(row["marks_json"])) for row in kept]
    assert len(set(sealed)) == 3
    assert broken_at(entries) is None
    assert all("reasons" not in str(entry.details) for entry in entries)
