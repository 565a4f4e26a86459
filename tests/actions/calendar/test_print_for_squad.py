"""Brief and notices are printed for a squad whose members have no account."""

import io
from datetime import timedelta
from zoneinfo import ZoneInfo

from pypdf import PdfReader

from storage.records.message import Message
from storage.records.request import Person
from tests.actions.conftest import Asking, Begin, button
from tests.actions.event_day.day_cast import made, slots
from tests.actions.office_cast import until
from tests.actions.squads.test_squads_admin import BRIEF, coach_squad


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


async def test_a_squad_without_phones_has_its_times_on_paper_as_they_are_now(begin: Begin) -> None:
    asking = await made(begin)
    (first, *_) = await slots(asking)
    _, text = await printed(asking, first.squad_id)
    local = first.begins_at.astimezone(ZoneInfo("America/New_York"))
    assert "Times and turns, as they are now" in text and f"{local:%H:%M}: Sock run, run 1" in text
    assert "You are called here" not in text
