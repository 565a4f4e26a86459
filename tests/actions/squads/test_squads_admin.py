"""A squad without accounts: founded, filled, named, scheduled, handed in and printed by the coach; linked later."""

import io
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from pypdf import PdfReader

from bot.words.core.paper import on_paper
from storage.records.message import Message, Select
from storage.records.request import Person
from tests.actions.conftest import Asking, Begin, button
from tests.actions.event_day.day_cast import made, slots
from tests.actions.hand_in_cast import handing_in
from tests.actions.office_cast import make_squad, until
from tests.actions.practice_cast import PRACTICE
from tests.actions.squads.test_students_admin import entered, student_id

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


async def coach_squad(asking: Asking, name: str, *students: str) -> int:
    """Found a squad and fill it as a coach does; its id."""
    for one in students:
        await entered(asking, one)
    listed = await asking.message("people.squads:0")
    form = await asking.form(button(listed, "Found a squad").key)
    card = await asking.message(form.key, fields={"squad": name, "section": "7-A"})
    fill = next(row for row in card.rows if isinstance(row, Select))
    assert fill.prompt == "Add students without a squad"
    card = await asking.message(fill.key, values=tuple(choice.value for choice in fill.choices[:3]))
    assert "Nobody here has an account" in card.text and f"{students[0]} (captain)" in card.text
    async with asking.store.read() as db:
        return int(await db.value("SELECT id FROM squad WHERE name = ?", name))


async def test_the_coach_founds_fills_books_and_hands_in_for_a_squad_without_accounts(begin: Begin) -> None:
    asking = await begin("drafting", practice=PRACTICE, **handing_in())
    await asking.confirm("signup.open")
    await make_squad(asking, 11, 3, "Crooked Spoons")
    squad = await coach_squad(asking, "Muddy Teapots", "Ann", "Bob", "Cyd")
    await until(asking, BRIEF)
    assert f"**Muddy Teapots**, squad {squad}" in (await asking.message("people.squad", values=(str(squad),))).text
    ann = await student_id(asking, "Ann")
    why = {"why": "We knotted the bunting twice so that it holds."}
    assert "Ann" in (await asking.filled(f"hand-in.enter:{ann}", fields=why)).text
    async with asking.store.read() as db:
        assert await db.value("SELECT squad_id FROM hand_in WHERE student_id = ?", ann) == squad


async def printed(asking: Asking, squad: int) -> tuple[Message, str]:
    card = await asking.message("people.squad", values=(str(squad),))
    message = await asking.message(button(card, "Brief and notices on paper").key)
    reader = PdfReader(io.BytesIO(message.files[0].data))
    return message, " ".join(" ".join(page.extract_text() for page in reader.pages).split())


async def test_brief_and_notices_are_printed_and_nothing_secret_is(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    squad = await coach_squad(asking, "Muddy Teapots", "Ann", "Bob", "Cyd")
    message, text = await printed(asking, squad)
    assert "not out yet" in message.text and "Build a robot" not in text and "Ann has joined" in text
    await asking.ask("judges.add", people=(Person(id=700, name="Ms Reed"),))
    assert any("asked to be a judge" in one for one in await asking.messages_to("news"))
    await until(asking, BRIEF + timedelta(minutes=1))
    message, text = await printed(asking, squad)
    assert "Build a robot that brings socks to the basket" in text and "Muddy Teapots" in text
    assert "The brief is out" in text and "Paper chain" not in text
    assert "<t:" not in text and "**" not in text
    # What is not for a squad, or means nothing on paper, is left out; and who presses the buttons is said.
    assert "asked to be a judge" not in text and "SHA-256" not in text
    assert "tell your coach: your coach does it for you" in text


def test_on_paper_people_stand_by_their_names() -> None:
    said = on_paper("<@11>, <@!12> and <@13>: look into <#99>.", ZoneInfo("UTC"), {11: "Ann", 12: "Bob"})
    assert said == "Ann, Bob and somebody: look into the room on the class server."


async def test_an_empty_squad_of_the_coach_gets_its_first_member_as_captain(begin: Begin) -> None:
    asking = await begin()
    await asking.ask("coach-squad.founded", fields={"squad": "Muddy Teapots", "section": "7-A"})
    assert (
        "no two names may be alike"
        in (await asking.message("coach-squad.founded", fields={"squad": "Muddy Teap0ts", "section": "7-A"})).text
    )
    async with asking.store.read() as db:
        code = await db.value("SELECT join_code FROM squad")
    await asking.ask("squad.join-by-code", 1, fields={"code": code, "name": "Ada"})
    assert "Ada (captain)" in (await asking.message("squad.mine", 1)).text


async def test_a_squad_without_phones_has_its_times_on_paper_as_they_are_now(begin: Begin) -> None:
    asking = await made(begin)
    (first, *_) = await slots(asking)
    _, text = await printed(asking, first.squad_id)
    local = first.begins_at.astimezone(ZoneInfo("America/New_York"))
    assert "Times and turns, as they are now" in text and f"{local:%H:%M}: Sock run, run 1" in text
    assert "You are called here" not in text


async def test_an_unkind_name_is_changed_and_the_squad_told(begin: Begin) -> None:
    asking = await begin()
    moles = await make_squad(asking, 1, 3, "Muddy Teapots")
    await make_squad(asking, 11, 3, "Crooked Spoons")
    form = await asking.form(f"people.rename:{moles}")
    assert "no two names may be alike" in (await asking.message(form.key, fields={"squad": "Cr00ked Spoons"})).text
    assert "**Kind Teapots**" in (await asking.message(form.key, fields={"squad": "Kind Teapots"})).text
    assert "renamed your squad" in (await asking.messages_to(f"squad/{moles}"))[-1]
