"""The trial: one invented entry for all judges, compared in private, never counted."""

import io
from typing import Any

import pytest
from PIL import Image

import bot.actions.judging.calibration_trial  # noqa: F401
from bot.actions.scoring.score_book import score_book
from storage.records.message import Form, Message, TextField
from storage.records.request import Upload
from tests.actions.conftest import Begin, button
from tests.actions.judging_cast import ADA, BEN, CY, Cast, cast, living, long_rubric
from tests.actions.office_cast import texts
from tests.actions.scored import start_surprise
from tests.actions.table_help import select


def photo() -> bytes:
    """A photo that says where it was taken, and has something behind its end."""
    file = io.BytesIO()
    tags = Image.Exif()
    tags[0x010F] = "SECRET-CAMERA"
    Image.new("RGB", (40, 30), "red").save(file, "JPEG", exif=tags)
    return file.getvalue() + b"SECRET-TAIL"


TEXT = "The Test Tadpoles hand in a string of bunting with a fish on it."


async def begun(begin: Begin, **uploads: Upload) -> Cast:
    found = await cast(begin)
    asked = await found.asking.message("trials.ask")
    form = await found.asking.form(select(asked).key, values=("bunting/bunting",))
    await found.asking.message(form.key, fields={"sample": TEXT}, uploads=uploads)
    return found


async def open_sample(found: Cast, who: int) -> Form:
    look = button(await living(found, who), "See the sample")
    sample = await found.asking.message(look.key, who, server_id=None)
    return await found.asking.form(button(sample, "Mark the sample").key, who, server_id=None)


async def mark(found: Cast, who: int, reasons: int, theme: int) -> Message:
    form = await open_sample(found, who)
    return await found.submit(who, form, {"reasons": reasons, "theme": theme})


async def test_every_judge_gets_the_sample_before_any_real_sheet(begin: Begin) -> None:
    found = await begun(begin)
    for who in (ADA, BEN, CY):
        told = await found.asking.messages_to(f"judge/{(await found.judge(who)).id}")
        assert "please mark **one invented entry** for Bunting" in told[-1]
        assert "First, please mark one invented entry" in (await living(found, who)).text
    sample = await found.asking.message(button(await living(found, ADA), "See the sample").key, ADA, server_id=None)
    assert TEXT in sample.text


async def test_the_coach_is_offered_an_invented_entry_ready_to_use(begin: Begin) -> None:
    found = await cast(begin, events=(long_rubric(3),))
    form = await found.asking.form("trials.ask")
    assert form.fields[0].kind == "text" and "an invented squad" in form.fields[0].value


async def test_a_judge_sees_how_they_compare_only_after_marking_and_only_with_three(begin: Begin) -> None:
    found = await begun(begin)
    assert "mark the sample yourself first" in (await found.asking.message("trials.compare:1", ADA)).text
    waits = await mark(found, ADA, 4, 2)
    assert "as soon as 3 judges have marked it" in waits.text and button(waits, "How I compare").disabled
    await mark(found, BEN, 2, 2)
    assert "as soon as 3 judges" in (await found.asking.message("trials.compare:1", ADA)).text
    last = await mark(found, CY, 1, 3)
    compared = await found.asking.message(button(last, "How I compare").key, CY)
    assert "Written reasons: you 1, middle of the panel 2 (1 below)" in compared.text
    ada = await found.asking.message("trials.compare:1", ADA)
    assert "Written reasons: you 4, middle of the panel 2 (2 above)" in ada.text
    assert "Fits the theme: you 2, just as the middle of the panel" in ada.text
    assert "Please read the levels of Written reasons once more" in ada.text


async def test_the_coach_sees_the_spread_and_no_judge_by_name_beside_a_mark(begin: Begin) -> None:
    found = await begun(begin)
    for who, marks in ((ADA, (4, 2)), (BEN, (2, 2)), (CY, (1, 3))):
        await mark(found, who, *marks)
    panel = await found.asking.message("trials.panel")
    assert "3 of 3 judges have marked the sample." in panel.text
    assert "- Written reasons: from 1 to 4, middle 2" in panel.text
    assert "- Fits the theme: from 2 to 3, middle 2" in panel.text
    assert "Worth a talk before the real sheets:** Written reasons." in panel.text
    assert "Of the marks, about 83 % lie within one level" in panel.text
    assert "Judge 20" not in panel.text
    assert "All 3 judges have marked the sample" in (await found.asking.messages_to("office"))[-1]


async def test_trial_marks_never_reach_the_score_book(begin: Begin) -> None:
    found = await begun(begin)
    await mark(found, ADA, 4, 4)
    tryout = await found.asking.tryout()
    async with found.asking.store.read() as db:
        assert (await score_book(db, tryout)).sheets == ()


async def test_a_marked_sample_stays_as_it_is(begin: Begin) -> None:
    found = await begun(begin)
    form = await open_sample(found, ADA)
    await found.submit(ADA, form, {"reasons": 4, "theme": 2})
    assert "stays as you marked it" in (await found.submit(ADA, form, {"reasons": 1})).text
    assert "stays as you marked it" in (await found.asking.message("trials.mark:1", ADA)).text
    assert "See the sample" not in str((await living(found, ADA)).rows)


async def test_a_half_marked_sample_goes_on_later(begin: Begin) -> None:
    found = await begun(begin)
    form = await open_sample(found, ADA)
    half = await found.submit(ADA, form, {"reasons": 4})
    assert "Still to mark: Fits the theme." in half.text
    again = await found.asking.form(button(half, "Go on with the sample").key, ADA, server_id=None)
    done = await found.submit(ADA, again, {"theme": 2})
    assert "The sample is marked." in done.text


async def test_a_picture_goes_with_the_sample_and_anything_else_does_not(begin: Begin) -> None:
    found = await begun(begin, picture=Upload(name="photo of my cat.JPG", data=photo()))
    sample = await found.asking.message("trials.look:1", ADA, server_id=None)
    assert [file.name for file in sample.files] == ["sample.jpg"]
    assert b"SECRET" in photo() and b"SECRET" not in sample.files[0].data
    with Image.open(io.BytesIO(sample.files[0].data)) as shown:
        assert shown.size == (40, 30)
    assert "invented entry" in sample.files[0].alt
    await found.asking.message("trials.close:1")
    refused = await found.asking.message(
        "trials.begin:bunting:bunting", fields={"sample": TEXT}, uploads={"picture": Upload(name="x.exe", data=b"MZ")}
    )
    assert "cannot use that file as a picture" in refused.text
    assert "No trial has begun" in refused.text and TEXT in refused.text


async def test_a_surprise_is_not_tried_out_before_it_starts(begin: Begin) -> None:
    found = await cast(begin, people=(ADA, BEN, CY))
    asked = await found.asking.message("trials.ask")
    assert [one.value for one in select(asked).choices] == ["bunting/bunting"]
    assert "A surprise stands here once it has started." in asked.text and "Paper chain" not in str(asked)
    sealed: tuple[tuple[str, dict[str, Any]], ...]
    sealed = (("trials.form", {"values": ("chain/team",)}), ("trials.begin:chain:team", {"fields": {"sample": TEXT}}))
    for key, more in sealed:
        assert "it has not started" in (await found.asking.message(key, **more)).text
    await start_surprise(found.asking)
    assert "chain/team" in str((await found.asking.message("trials.ask")).rows)


async def test_one_trial_at_a_time_and_after_the_close_nobody_marks_it(begin: Begin) -> None:
    found = await begun(begin)
    assert "A trial is open already" in (await found.asking.message("trials.ask")).text
    form = await open_sample(found, ADA)
    panel = await found.asking.message("trials.panel")
    closed = await found.asking.message(button(panel, "Close the trial").key)
    assert "The trial is closed." in closed.text
    assert "That trial is over" in (await found.submit(ADA, form, {"reasons": 1})).text
    assert "First, please" not in (await living(found, BEN)).text


async def test_real_sheets_come_beside_a_sample_that_waits(begin: Begin) -> None:
    found = await begun(begin)
    await found.open()
    message = await living(found, ADA)
    assert "**0 of 3** done" in message.text and "First, please mark one invented entry" in message.text
    assert button(message, "See the sample").style == "main"


async def begun_early(begin: Begin) -> Cast:
    """A trial runs before the brief is out, while the events can still change."""
    found = await begun(begin)
    async with found.asking.store.write() as db:
        await db.run("UPDATE tryout SET state = 'drafting', brief_at = NULL")
    return found


async def test_a_trial_of_lines_that_the_plan_has_no_more_ends_and_hides_no_list(begin: Begin) -> None:
    found = await begun_early(begin)
    form = await open_sample(found, ADA)
    await found.asking.filled("plan.renew", fields={"events": "Bridge = count\nDebate = judges", "turns": ""})
    assert [event.key for event in (await found.asking.tryout()).plan.events] == ["bridge", "debate"]
    assert "First, please" not in (await living(found, BEN)).text
    assert "That trial is over" in (await found.submit(ADA, form, {"reasons": 1})).text
    assert "The trial has ended" in (await found.asking.messages_to("office"))[-1]
    assert "Begin a trial" in texts(await found.asking.message("trials.panel"))


@pytest.mark.parametrize(("criteria", "stays"), [(2, True), (1, False)])
async def test_a_trial_stays_where_only_the_words_of_its_lines_change(begin: Begin, criteria: int, stays: bool) -> None:
    found = await begun_early(begin)
    await mark(found, ADA, 3, 2)
    form = await found.asking.form("plan.event", values=("bunting",))
    fields = {one.key: one.value for one in form.fields if isinstance(one, TextField)}
    lines = fields["criteria"].replace("not seen", "nowhere").splitlines()
    await found.asking.message(form.key, fields=fields | {"criteria": "\n".join(lines[:criteria])})
    assert ("1 of 3 judges" in (await found.asking.message("trials.panel")).text) is stays


async def test_a_trial_that_an_older_version_kept_of_a_rubric_that_is_gone_stops_nobody(begin: Begin) -> None:
    found = await begun(begin)
    async with found.asking.store.write() as db:
        await db.run("UPDATE calibration SET measure = 'streamers'")
    assert "invented entry" not in (await living(found, ADA)).text
    assert "Begin a trial" in str((await found.asking.message("trials.panel")).rows)
    for over in ("trials.look:1", "trials.mark:1", "trials.compare:1"):
        assert "over" in (await found.asking.message(over, ADA, server_id=None)).text
    form = await found.asking.form(select(await found.asking.message("trials.ask")).key, values=("bunting/bunting",))
    await found.asking.message(form.key, fields={"sample": TEXT})
    assert "please mark one invented entry" in (await living(found, ADA)).text
    async with found.asking.store.read() as db:
        assert [row["measure"] for row in await db.rows("SELECT measure FROM calibration")] == ["bunting"]
