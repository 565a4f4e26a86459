"""The hand-in: parts with reasons and photos, seen by their own squad, its judges and the coach, until the deadline."""

import io
from datetime import UTC, datetime, timedelta
from hashlib import sha256

import pytest
from PIL import Image

import bot.clerk.attempts
import bot.clerk.hand_in
import bot.clerk.hand_in_coach
import bot.clerk.hand_in_judges  # noqa: F401
from bot.clerk.cards import compose
from storage.records.message import Message, TextField
from storage.records.plan import Plan
from storage.records.request import Upload
from storage.tables import hand_ins, post
from storage.tables import trail as trail_table
from tests.clerk.conftest import Asking, Begin, button, small_plan
from tests.clerk.judging_cast import cast, squad_called
from tests.clerk.office_cast import make_squad, texts, until

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
DEADLINE = datetime(2027, 1, 21, 20, 30, tzinfo=UTC)
DAY = timedelta(days=1)
WHY = "The drill, because our rover brings home core samples."


def handing_in() -> dict[str, object]:
    """The small plan, with a hand-in for the mission patch."""
    plan: Plan = small_plan()
    core, patch, relay = plan.events
    return {"events": (core, patch.model_copy(update={"hand_in": True}), relay)}


def drawing(color: str = "red", size: tuple[int, int] = (40, 30)) -> Upload:
    """A small drawing as a file."""
    file = io.BytesIO()
    Image.new("RGB", size, color).save(file, "PNG")
    return Upload(name="patch.png", data=file.getvalue(), size=len(file.getvalue()))


async def window(begin: Begin) -> tuple[Asking, int, int]:
    """The brief is out: Comet Crew of students 1 to 3, Moon Moles of 11 to 13; everybody has read it."""
    asking = await begin("drafting", **handing_in())
    await asking.ask("signup.open")
    crew = await make_squad(asking, 1, 3, "Comet Crew")
    moles = await make_squad(asking, 11, 3, "Moon Moles")
    await until(asking, BRIEF)
    for who in (1, 2, 3, 11, 12, 13):
        await asking.ask("brief.open", who)
    return asking, crew, moles


async def add(asking: Asking, who: int, why: str = WHY, photo: Upload | None = None, **fields: str) -> Message:
    """A member hands in a part."""
    uploads = {"photo": photo} if photo else {}
    return await asking.message("hand-in.save", who, fields={"why": why, **fields}, uploads=uploads)


async def shown(asking: Asking, squad: int) -> Message:
    """What the card in a squad's room shows."""
    async with asking.store.read() as db:
        found = await compose(db, await asking.tryout(), f"hand-in/{squad}")
    assert found is not None
    return found


async def test_the_card_comes_with_the_brief_and_says_who_is_missing(begin: Begin) -> None:
    asking, crew, moles = await window(begin)
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        for squad in (crew, moles):
            placed = await post.card(db, tryout.id, f"hand-in/{squad}")
            assert placed is not None and placed.to == f"squad/{squad}"
    first = await shown(asking, crew)
    assert "In (0 of 3): nobody yet\nMissing: Student 1, Student 2 and Student 3" in first.text
    assert f"<t:{int(DEADLINE.timestamp())}:F>" in first.text
    async with asking.store.read() as db:
        before = await post.card(db, tryout.id, f"hand-in/{crew}")
    await add(asking, 2)
    async with asking.store.read() as db:
        after = await post.card(db, tryout.id, f"hand-in/{crew}")
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
    await asking.ask("signup.open")
    squad = await make_squad(asking, 1, 3, "Comet Crew")
    await until(asking, BRIEF + DAY)
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        assert await post.card(db, tryout.id, f"hand-in/{squad}") is None
    assert "hand in nothing" in (await add(asking, 1)).text
    assert "hand in nothing" in (await asking.message("hand-in.parts", 1)).text


async def test_a_squad_founded_while_the_window_runs_gets_its_card_too(begin: Begin) -> None:
    calendar = small_plan().calendar.model_copy(update={"signup_closes": datetime(2027, 1, 13, 15, 30)})  # noqa: DTZ001
    asking = await begin("drafting", calendar=calendar, **handing_in())
    await asking.ask("signup.open")
    for first, name in ((1, "Comet Crew"), (11, "Moon Moles")):
        await make_squad(asking, first, 3, name)
    await until(asking, BRIEF + DAY)
    late = await make_squad(asking, 21, 3, "Star Snails")
    assert "Student 21" in (await shown(asking, late)).text
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        assert await post.card(db, tryout.id, f"hand-in/{late}") is not None


async def test_a_member_changes_a_part_until_the_deadline_and_the_form_shows_what_was_written(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    assert "Thank you" in (await add(asking, 1)).text
    form = await asking.form("hand-in.add", 1)
    assert isinstance(form.fields[0], TextField) and form.fields[0].value == WHY
    other = "The wheel, because a rover without wheels stays at home."
    assert "1 of 3 parts" in (await add(asking, 1, other)).text
    assert other in (await asking.message("hand-in.parts", 1)).text
    asking.now = DEADLINE - timedelta(seconds=3)
    assert "Thank you" in (await add(asking, 1)).text
    asking.now = DEADLINE - timedelta(seconds=1)
    assert "closed" in (await add(asking, 1, other)).text
    await until(asking, DEADLINE)
    assert "closed" in (await asking.message("hand-in.add", 1)).text
    assert "closed" in (await asking.message("hand-in.taken-back", 1)).text
    read = await asking.message("hand-in.parts", 1)
    assert WHY in read.text and texts(read) == []


async def test_before_the_brief_nothing_is_handed_in(begin: Begin) -> None:
    asking = await begin("drafting", **handing_in())
    await asking.ask("signup.open")
    await make_squad(asking, 1, 3, "Comet Crew")
    assert "once the brief is out" in (await add(asking, 1)).text


async def test_a_reason_must_say_something(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    for typed in ("", "the drill", "drill" + " " * 30, "\u200b" * 20, "x" * 501):
        assert "10 to 500 characters" in (await add(asking, 1, typed)).text
    await add(asking, 1, "the  drill\n\n# is mine @everyone")
    read = await asking.message("hand-in.parts", 1)
    assert r"> the drill \# is mine \@everyone" in read.text


async def test_whoever_is_in_no_squad_hands_in_nothing(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    assert "no squad" in (await add(asking, 77)).text or "not in a squad" in (await add(asking, 77)).text
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM hand_in") == 0


async def test_nothing_of_one_squad_is_seen_by_another(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    await add(asking, 1, photo=drawing())
    mole = await asking.message("hand-in.parts", 11)
    assert WHY not in mole.text and not mole.files and "Moon Moles" in mole.text
    stolen = await asking.message(f"hand-in.squad:0:{crew}", 11)
    assert "Only a coach" in stolen.text and not stolen.files
    student = (await asking.message("hand-in.student:1", 11)).text
    assert "Only a coach" in student


async def test_a_part_taken_back_is_deleted_with_its_photo(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    await add(asking, 1, photo=drawing())
    sure = await asking.message("hand-in.take-back", 1)
    assert "your photo" in sure.text
    assert "deleted" in (await asking.message(button(sure, "Yes, take it back").key, 1)).text
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM hand_in") == 0
    assert "In (0 of 3)" in (await shown(asking, crew)).text
    assert "no part" in (await asking.message("hand-in.take-back", 1)).text


async def test_a_photo_goes_with_the_part_and_stays_until_it_is_taken_out(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await add(asking, 1, photo=drawing())
    await add(asking, 1, "The drill, still, and we drew it twice.")
    (photo,) = (await asking.message("hand-in.parts", 2)).files
    assert photo.name == "part-1.png" and photo.alt == "Photo of the part of Student 1"
    async with asking.store.read() as db:
        kept = await hand_ins.part(db, 1)
    assert kept is not None and kept.photo_sha256 == sha256(photo.data).hexdigest()
    await add(asking, 1, photo=drawing("blue"))
    (other,) = (await asking.message("hand-in.parts", 2)).files
    assert other.data != photo.data
    labels = [field.label for field in (await asking.form("hand-in.add", 1)).fields]
    assert labels == ["What is my part, and why?", "Another photo", "The photo that is there"]
    await add(asking, 1, keep="no")
    assert (await asking.message("hand-in.parts", 2)).files == ()


async def test_a_photo_that_cannot_be_kept_does_not_cost_the_words(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    for upload, line in (
        (Upload(name="IMG_1.HEIC", data=b"\x00\x00\x00\x24ftypheic" + b"\0" * 90), "no picture that I can keep"),
        (Upload(name="huge.png", data=b"", size=300_000_000), "8 MB is the most"),
    ):
        said = await add(asking, 1, photo=upload)
        assert "Your words are saved, but not the photo" in said.text and line in said.text
    read = await asking.message("hand-in.parts", 1)
    assert WHY in read.text and read.files == ()
    assert "10 to 500" in (await add(asking, 2, "", photo=drawing())).text
    async with asking.store.read() as db:
        assert await hand_ins.part(db, 2) is None


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
    await asking.ask("signup.open")
    crew = await make_squad(asking, 1, 4, "Comet Crew")
    moles = await make_squad(asking, 11, 3, "Moon Moles")
    await until(asking, BRIEF + DAY)
    await add(asking, 4, photo=drawing())
    await asking.ask("squad.left", 4)
    assert WHY not in (await asking.message("hand-in.parts", 1)).text
    await asking.ask("squad.join", 4, values=(str(moles),))
    there = await asking.message("hand-in.parts", 11)
    assert WHY not in there.text and there.files == ()
    await add(asking, 4, "The moon, because we are the moles of it.")
    there = await asking.message("hand-in.parts", 11)
    assert "moles of it" in there.text and there.files == ()
    assert "In (0 of 3)" in (await shown(asking, crew)).text


async def test_reminders_and_digest_name_missing_parts_and_nobody_who_owes_nothing(begin: Begin) -> None:
    asking, crew, moles = await window(begin)
    for who in (1, 2, 3, 11):
        await add(asking, who)
    before = len(await asking.letters(f"squad/{crew}"))
    await until(asking, BRIEF + DAY + timedelta(hours=1))
    assert len(await asking.letters(f"squad/{crew}")) == before
    assert "2 of you have not added a part" in (await asking.letters(f"squad/{moles}"))[-1]
    assert "**Moon Moles**: 2 parts of the hand-in missing" in "\n".join(await asking.letters("office"))
    await until(asking, DEADLINE + DAY)
    assert "hand-in" not in (await asking.letters("office"))[-1]


async def test_the_table_proposes_the_members_with_a_part_and_saves_nothing_by_itself(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    for who in (1, 2):
        await add(asking, who)
    await until(asking, DEADLINE)
    (field,) = (await asking.form(f"table.form:patch.members:{crew}:1")).fields
    assert isinstance(field, TextField) and field.value == "2"
    assert field.hint == "Of the squad's 3. 2 parts handed in: is that who contributed?"
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM attempt") == 0
    again = await asking.form(f"table.form:patch.members:{crew}:1:3")
    assert isinstance(again.fields[0], TextField) and again.fields[0].value == "3"


async def test_the_trail_holds_ids_and_no_words(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    await add(asking, 1, photo=drawing())
    await asking.ask("hand-in.taken-back", 1)
    async with asking.store.read() as db:
        entries = [one for one in await trail_table.entries(db) if one.action.startswith("hand-in")]
    assert [(one.action, one.details) for one in entries] == [
        ("hand-in.save", {"squad": crew, "student": 1}),
        ("hand-in.take-back", {"squad": crew, "student": 1}),
    ]


async def test_a_judge_reads_the_hand_in_beside_the_own_sheet_only(begin: Begin) -> None:
    found = await cast(begin, people=(201, 202), names=("Comet Crew", "Moon Moles"), **handing_in())
    asking = found.asking
    async with asking.store.write() as db:
        crew = await squad_called(db, "Comet Crew")
        for who, name in ((1, "Ada Lark"), (2, "Ben Orr"), (3, "Ben Ito")):
            await db.run(
                "INSERT INTO student (id, tryout_id, platform_id, name, section, squad_id, joined_at) "
                "VALUES (?, 1, ?, ?, '7-A', ?, '2027-01-04')", who, who, name, crew,
            )  # fmt: skip
    for who in (1, 2, 3):
        await add(asking, who, photo=drawing() if who == 1 else None)
    await found.open()
    sheet = await found.sheet(201, "Comet Crew")
    look = await asking.message("sheets.look", 201, values=(str(sheet.id),), server_id=None)
    read = await asking.message(button(look, "See the hand-in").key, 201, server_id=None)
    assert "**Ada** (photo 1)" in read.text and "**Ben Orr**" in read.text and "**Ben Ito**" in read.text
    assert "Lark" not in read.text and len(read.files) == 1
    assert "no longer yours" in (await asking.message(f"sheets.hand-in:0:{sheet.id}", 202, server_id=None)).text
    assert "Only a judge" in (await asking.message(f"sheets.hand-in:0:{sheet.id}", 11)).text
    async with asking.store.write() as db:
        await db.run("UPDATE sheet SET state = 'recused' WHERE id = ?", sheet.id)
    assert "no longer yours" in (await asking.message(f"sheets.hand-in:0:{sheet.id}", 201, server_id=None)).text


async def test_the_judges_list_offers_the_hand_in_of_the_squad_that_comes_next(begin: Begin) -> None:
    found = await cast(begin, people=(201,), names=("Comet Crew",), **handing_in())
    await found.open()
    listed = await found.asking.message("sheets.list", 201, server_id=None)
    assert "Hand-in: Comet Crew" in texts(listed)


async def test_without_a_hand_in_judges_are_offered_none(begin: Begin) -> None:
    found = await cast(begin, people=(201,), names=("Comet Crew",))
    await found.open()
    listed = await found.asking.message("sheets.list", 201, server_id=None)
    assert not any(label.startswith("Hand-in") for label in texts(listed))
    sheet = await found.sheet(201, "Comet Crew")
    look = await found.asking.message("sheets.look", 201, values=(str(sheet.id),), server_id=None)
    assert "See the hand-in" not in texts(look)
    assert "hand in nothing" in (await found.asking.message(f"sheets.hand-in:0:{sheet.id}", 201, server_id=None)).text


async def test_the_coach_enters_a_part_for_a_student_without_an_account(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    await asking.ask("people.entered", fields={"name": "Zora", "section": "7-A"})
    async with asking.store.read() as db:
        zora = int(await db.value("SELECT id FROM student WHERE name = 'Zora'"))
    placed = await asking.message(f"people.placed:{zora}", values=(str(crew),))
    page = await asking.message(button(placed, "Part of the hand-in").key)
    form = await asking.form(button(page, "Enter the part").key)
    assert [field.key for field in form.fields] == ["why", "photo"]
    await asking.ask(form.key, fields={"why": "The lander, drawn on paper."}, uploads={"photo": drawing()})
    assert "Entered by a coach" in (await asking.message(f"hand-in.student:{zora}")).text
    assert "In (1 of 4): Zora" in (await shown(asking, crew)).text
    read = await asking.message(f"hand-in.squad:0:{crew}")
    assert "The lander" in read.text and len(read.files) == 1


async def test_the_coach_cannot_put_other_words_into_a_students_mouth_but_can_take_a_part_out(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    await add(asking, 1)
    page = await asking.message("hand-in.student:1")
    assert WHY in page.text and "Change the part" not in texts(page)
    assert "Only Student 1 can change it" in (await asking.message("hand-in.entered:1", fields={"why": WHY + "!"})).text
    sure = await asking.message(button(page, "Take it out").key)
    assert "is deleted" in (await asking.message(button(sure, "Yes, take it out").key)).text
    assert "In (0 of 3)" in (await shown(asking, crew)).text


async def test_after_the_deadline_the_coach_gives_a_reason_and_after_the_result_nothing_is_added(begin: Begin) -> None:
    asking, crew, _ = await window(begin)
    await until(asking, DEADLINE)
    form = await asking.form("hand-in.enter:2")
    assert [field.key for field in form.fields] == ["why", "photo", "late"]
    assert "entered late" in (await asking.message(form.key, fields={"why": WHY})).text
    assert "is saved" in (await asking.message(form.key, fields={"why": WHY, "late": "phone broke"})).text
    assert "Entered after the deadline: phone broke" in (await asking.message("hand-in.student:2")).text
    assert "In (1 of 3): Student 2" in (await shown(asking, crew)).text
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET state = 'announced'")
    assert "nothing is added" in (await asking.message("hand-in.enter:3")).text


@pytest.mark.parametrize("stays", [False, True])
async def test_whoever_is_erased_leaves_neither_words_nor_photo(begin: Begin, stays: bool) -> None:
    asking, _, _ = await window(begin)
    await add(asking, 1, photo=drawing())
    if stays:
        await until(asking, DEADLINE)
    await asking.ask("people.forgotten:1")
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM hand_in") == 0


async def test_the_purge_deletes_every_part(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await add(asking, 1, photo=drawing())
    await asking.ask("tryout.archive")
    await until(asking, asking.now + timedelta(days=62))
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM hand_in") == 0
        said = [row[0] for row in await db.rows("SELECT answer_json FROM receipt")]
    assert not any("drill" in one for one in said)


async def test_no_answer_that_is_kept_repeats_what_a_student_wrote(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await add(asking, 1)
    await asking.message("hand-in.entered:2", fields={"why": WHY})
    async with asking.store.read() as db:
        said = [row[0] for row in await db.rows("SELECT answer_json FROM receipt")]
    assert len(said) > 10 and not any("drill" in one for one in said)
