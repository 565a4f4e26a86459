"""The hand-in: parts with reasons and photos, seen by their own squad, its judges and the coach, until the deadline."""

from datetime import datetime, timedelta
from hashlib import sha256

from bot.actions.core.dispatch import ACTIONS, refuse_files
from bot.words.core.action_keys import ActionKey
from storage.records.message import Say, TextField
from storage.records.request import Request, Upload
from storage.tables import audit_log as trail_table
from storage.tables import live_messages, member_parts
from tests.actions.conftest import SERVER, Begin, button, small_plan
from tests.actions.hand_in_cast import BRIEF, DAY, DEADLINE, WHY, add, drawing, handing_in, shown, window
from tests.actions.office_cast import make_squad, texts, until


async def test_the_card_comes_with_the_brief_and_says_who_is_missing(begin: Begin) -> None:
    asking, crew, moles = await window(begin)
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        for squad in (crew, moles):
            placed = await live_messages.by_key(db, tryout.id, f"hand-in/{squad}/bunting")
            assert placed is not None and placed.address == f"squad/{squad}"
    first = await shown(asking, crew)
    assert "In (0 of 3): nobody yet\nMissing: Student 1, Student 2 and Student 3" in first.text
    assert f"<t:{int(DEADLINE.timestamp())}:F>" in first.text
    async with asking.store.read() as db:
        before = await live_messages.by_key(db, tryout.id, f"hand-in/{crew}/bunting")
    await add(asking, 2)
    async with asking.store.read() as db:
        after = await live_messages.by_key(db, tryout.id, f"hand-in/{crew}/bunting")
    assert before is not None and after is not None and after.stale == before.stale + 1
    now = await shown(asking, crew)
    assert "In (1 of 3): Student 2\nMissing: Student 1 and Student 3" in now.text
    assert WHY not in now.text
    assert texts(now) == ["Add my part", "See our parts"]
    await add(asking, 1)
    await add(asking, 3)
    assert "Every part is in" in (await shown(asking, crew)).text


async def test_a_try_out_without_a_hand_in_has_no_card_and_says_so(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    squad = await make_squad(asking, 1, 3, "Crooked Spoons")
    await until(asking, BRIEF + DAY)
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        assert await live_messages.by_key(db, tryout.id, f"hand-in/{squad}/bunting") is None
    assert "hand in nothing" in (await add(asking, 1)).text
    assert "hand in nothing" in (await asking.message("hand-in.parts", 1)).text


async def test_a_squad_founded_while_the_window_runs_gets_its_card_too(begin: Begin) -> None:
    calendar = small_plan().calendar.model_copy(update={"signup_closes": datetime(2027, 1, 13, 15, 30)})  # noqa: DTZ001
    asking = await begin("drafting", calendar=calendar, **handing_in())
    await asking.confirm("signup.open")
    for first, name in ((1, "Crooked Spoons"), (11, "Muddy Teapots")):
        await make_squad(asking, first, 3, name)
    await until(asking, BRIEF + DAY)
    late = await make_squad(asking, 21, 3, "Sleepy Turnips")
    assert "Student 21" in (await shown(asking, late)).text
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        assert await live_messages.by_key(db, tryout.id, f"hand-in/{late}/bunting") is not None


async def test_a_member_changes_a_part_until_the_deadline_and_the_form_shows_what_was_written(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    assert "Thank you" in (await add(asking, 1)).text
    form = await asking.form("hand-in.add", 1)
    assert isinstance(form.fields[0], TextField) and form.fields[0].value == WHY
    other = "The basket, because a sock without one lies on the floor."
    assert "1 of 3 parts" in (await add(asking, 1, other)).text
    assert other in (await asking.message("hand-in.parts", 1)).text
    asking.now = DEADLINE - timedelta(seconds=3)
    assert "Thank you" in (await add(asking, 1)).text
    asking.now = DEADLINE - timedelta(seconds=1)
    assert "closed" in (await add(asking, 1, other)).text
    await until(asking, DEADLINE)
    assert "closed" in (await asking.message("hand-in.add", 1)).text
    assert "closed" in (await asking.message("hand-in.taken-back", 1)).text
    left = await shown(asking, crew)
    assert "In (1 of 3): Student 1\nThe hand-in is closed." in left.text, "nobody is named any more as missing"
    read = await asking.message("hand-in.parts", 1)
    assert WHY in read.text and texts(read) == []


async def test_before_the_brief_nothing_is_handed_in(begin: Begin) -> None:
    asking = await begin("drafting", **handing_in())
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    assert "once the brief is out" in (await add(asking, 1)).text


async def test_a_reason_must_say_something(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    for typed in ("", "the wheel", "wheel" + " " * 30, "\u200b" * 20, "x" * 501):
        assert "10 to 500 characters" in (await add(asking, 1, typed)).text
    await add(asking, 1, "the  wheel\n\n# is mine @everyone")
    read = await asking.message("hand-in.parts", 1)
    assert r"> the wheel \# is mine \@everyone" in read.text


async def test_whoever_is_in_no_squad_hands_in_nothing(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    assert "no squad" in (await add(asking, 77)).text or "not in a squad" in (await add(asking, 77)).text
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM hand_in") == 0


async def test_nothing_of_one_squad_is_seen_by_another(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    await add(asking, 1, photo=drawing())
    mole = await asking.message("hand-in.parts", 11)
    assert WHY not in mole.text and not mole.files and "Muddy Teapots" in mole.text
    stolen = await asking.message(f"hand-in.squad:0:{crew}", 11)
    assert "Only a coach" in stolen.text and not stolen.files
    student = (await asking.message("hand-in.student:1", 11)).text
    assert "Only a coach" in student


async def test_a_part_taken_back_is_deleted_with_its_photo(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    await add(asking, 1, photo=drawing())
    sure = await asking.message("hand-in.take-back", 1)
    assert "your photo" in sure.text
    assert "deleted" in (await asking.message(button(sure, "Yes, delete it").key, 1)).text
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM hand_in") == 0
    assert "In (0 of 3)" in (await shown(asking, crew)).text
    assert "no part" in (await asking.message("hand-in.take-back", 1)).text


async def test_a_photo_goes_with_the_part_and_stays_until_it_is_taken_out(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await add(asking, 1, photo=drawing())
    await add(asking, 1, "The wheel, still, and we drew it twice.")
    (photo,) = (await asking.message("hand-in.parts", 2)).files
    assert photo.name == "part-1.png" and photo.alt == "Photo of the part of Student 1"
    async with asking.store.read() as db:
        kept = await member_parts.part(db, 1, "bunting")
    assert kept is not None and kept.photo_sha256 == sha256(photo.data).hexdigest()
    await add(asking, 1, photo=drawing("blue"))
    (other,) = (await asking.message("hand-in.parts", 2)).files
    assert other.data != photo.data
    labels = [field.label for field in (await asking.form("hand-in.add", 1)).fields]
    assert labels == ["What did you make, and why?", "Another photo", "The photo that is there"]
    await add(asking, 1, keep="no")
    assert (await asking.message("hand-in.parts", 2)).files == ()


async def test_a_photo_is_fetched_for_members_of_a_squad_only_while_the_hand_in_is_open(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    action = ACTIONS[ActionKey.HAND_IN_SAVE]

    async def refused(who: int) -> Say | None:
        request = Request(id=9, at=asking.now, who=who, name="x", server_id=SERVER)
        return await refuse_files(asking.store, action, request)

    assert await refused(1) is None
    stranger = await refused(999)
    assert stranger is not None and "not in a squad" in stranger.message.text
    asking.now += timedelta(days=30)
    assert await refused(1) is not None


async def test_a_photo_that_cannot_be_kept_does_not_cost_the_words(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    for upload, line in (
        (
            Upload(name="IMG_1.HEIC", data=b"\x00\x00\x00\x24ftypheic" + b"\0" * 90),
            "Set the camera of your phone to JPEG",
        ),
        (Upload(name="x.png", data=b"MZ"), "cannot use that file as a picture"),
        (Upload(name="lost.png", data=b"", failed=True), "Please send it once more in a minute"),
        (Upload(name="huge.png", data=b"", size=300_000_000), "8 MB is the most"),
    ):
        said = await add(asking, 1, photo=upload)
        assert "Your words are saved, but not the photo" in said.text and line in said.text
    read = await asking.message("hand-in.parts", 1)
    assert WHY in read.text and read.files == ()
    assert "10 to 500" in (await add(asking, 2, "", photo=drawing())).text
    async with asking.store.read() as db:
        assert await member_parts.part(db, 2, "bunting") is None


async def test_the_command_can_bring_a_photo_alone_once_there_are_words(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    alone = await asking.message("hand-in.save", 1, uploads={"photo": drawing()})
    assert "10 to 500 characters" in alone.text
    await add(asking, 1)
    await asking.message("hand-in.save", 1, uploads={"photo": drawing()})
    read = await asking.message("hand-in.parts", 1)
    assert WHY in read.text and len(read.files) == 1


async def test_who_leaves_a_squad_takes_the_part_along(begin: Begin) -> None:
    calendar = small_plan().calendar.model_copy(update={"signup_closes": datetime(2027, 1, 15, 15, 30)})  # noqa: DTZ001
    asking = await begin("drafting", calendar=calendar, **handing_in())
    await asking.confirm("signup.open")
    crew = await make_squad(asking, 1, 4, "Crooked Spoons")
    moles = await make_squad(asking, 11, 3, "Muddy Teapots")
    await until(asking, BRIEF + DAY)
    await add(asking, 4, photo=drawing())
    await asking.yes("squad.leave", "Yes, leave", 4)
    assert WHY not in (await asking.message("hand-in.parts", 1)).text
    await asking.ask("squad.join", 4, values=(str(moles),))
    there = await asking.message("hand-in.parts", 11)
    assert WHY not in there.text and there.files == ()
    await add(asking, 4, "The moon, because we are the moles of it.")
    there = await asking.message("hand-in.parts", 11)
    assert "moles of it" in there.text and there.files == ()
    assert "In (0 of 3)" in (await shown(asking, crew)).text


async def test_the_trail_holds_ids_and_no_words(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    await add(asking, 1, photo=drawing())
    await asking.ask("hand-in.taken-back", 1)
    async with asking.store.read() as db:
        entries = [one for one in await trail_table.entries(db) if one.action.startswith("hand-in")]
    assert [(one.action, one.details) for one in entries] == [
        ("hand-in.save", {"squad": crew, "student": 1, "event": "bunting"}),
        ("hand-in.take-back", {"squad": crew, "student": 1, "event": "bunting"}),
    ]


async def test_what_was_sent_before_the_deadline_counts_though_it_is_dealt_with_afterwards(begin: Begin) -> None:
    """A photo takes a while, and so does a whole class in the last minute; meanwhile the clock closes the window."""
    asking, _, _ = await window(begin)
    await until(asking, DEADLINE)
    assert (await asking.tryout()).state == "judging"
    asking.now = DEADLINE - timedelta(seconds=5)
    assert "is in" in (await add(asking, 1, photo=drawing())).text
    asking.now = DEADLINE
    late = (await add(asking, 2)).text
    assert f"You wrote:\n> {WHY}" in late and "The deadline has passed" in late
    assert f"You wrote:\n> {WHY}" in (await add(asking, 2, photo=drawing())).text
