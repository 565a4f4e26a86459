"""One sheet on two devices, a form sent twice, a press delivered twice: nothing is lost, nothing is doubled."""

import json

from bot.actions.core.dispatch import ACTIONS, perform
from bot.rules.core.hash_chain import broken_at
from bot.rules.judging.marks_fingerprint import marks_fingerprint
from bot.words.core.custom_ids import split
from storage.records.request import Request
from storage.tables import audit_log
from tests.actions.conftest import Begin
from tests.actions.judging_cast import ADA, cast, long_rubric


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
