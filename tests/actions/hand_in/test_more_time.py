"""More time for one squad: it hands in after the deadline, the others do not, and the result says so."""

from datetime import UTC, datetime, timedelta

from bot.actions.hand_in.member_parts import parts_in_room
from storage.records.message import Message
from tests.actions.conftest import Asking, Begin, button
from tests.actions.hand_in_cast import handing_in
from tests.actions.office_cast import make_squad, texts, until
from tests.actions.squads.test_students_admin import student_id

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
PART = {"why": "We sorted the socks by colour because that is quicker."}


async def over(begin: Begin) -> tuple[Asking, int, int, datetime]:
    """A minute after the deadline."""
    asking = await begin("drafting", **handing_in())
    await asking.confirm("signup.open")
    squads = await make_squad(asking, 1, 3, "Crooked Spoons"), await make_squad(asking, 11, 3, "Muddy Teapots")
    await until(asking, BRIEF)
    deadline = BRIEF + timedelta(days=10)
    await until(asking, deadline + timedelta(minutes=1))
    return asking, *squads, deadline


async def test_one_squad_hands_in_later_and_the_reason_is_shown_with_the_result(begin: Begin) -> None:
    asking, spoons, teapots, _ = await over(begin)
    assert "closed" in (await asking.message("hand-in.save", 1, fields=PART)).text
    card = await asking.message("people.squad", values=(str(spoons),))
    form = await asking.form(button(card, "More time to hand in").key)
    assert form.fields[0].value == "2027-01-22 15:30"  # type: ignore[union-attr]
    said = await asking.message(form.key, fields={"until": "2027-01-22 15:30", "reason": "The camera broke"})
    assert "can hand in until" in said.text
    assert "more time" in (await asking.messages_to(f"squad/{spoons}"))[-1]
    assert not any("more time" in text for text in await asking.messages_to(f"squad/{teapots}"))
    assert "closed" not in (await asking.message("hand-in.save", 1, fields=PART)).text
    assert "closed" in (await asking.message("hand-in.save", 11, fields=PART)).text
    async with asking.store.read() as db:
        assert await db.value("SELECT kind || ': ' || reason FROM decision") == "extension: The camera broke"
        assert await db.value("SELECT count(*) FROM hand_in") == 1
    asking.now += timedelta(days=2)
    assert "closed" in (await asking.message("hand-in.save", 2, fields=PART)).text


async def test_more_time_must_be_more_and_not_for_ever(begin: Begin) -> None:
    asking, spoons, _, _ = await over(begin)
    for typed in ("2027-01-20 15:30", "2027-03-20 15:30", ""):
        message = await asking.message(f"time.given:{spoons}", fields={"until": typed, "reason": "Because"})
        assert "at most thirty days later" in message.text
    message = await asking.message(f"time.given:{spoons}", fields={"until": "2027-01-22 15:30", "reason": " "})
    assert "reason" in message.text


async def test_the_squads_room_and_the_coach_see_that_the_hand_in_is_open_for_this_squad(begin: Begin) -> None:
    asking, spoons, teapots, deadline = await over(begin)
    later = deadline + timedelta(days=1)

    async def card(squad: int) -> Message:
        async with asking.store.read() as db:
            found = await parts_in_room(db, await asking.tryout(), f"hand-in/{squad}/bunting")
        assert found is not None
        return found

    assert "The hand-in is closed." in (await card(spoons)).text
    await asking.ask(f"time.given:{spoons}", fields={"until": "2027-01-22 15:30", "reason": "The camera broke"})
    open_now = await card(spoons)
    assert f"<t:{int(later.timestamp())}:F>" in open_now.text and "closed" not in open_now.text
    assert "Add my part" in texts(open_now)
    assert "The hand-in is closed." in (await card(teapots)).text
    assert "Add my part" in texts(await asking.message("hand-in.parts", 1))
    one, other = await student_id(asking, "Student 2"), await student_id(asking, "Student 11")
    keys = [[field.key for field in (await asking.form(f"hand-in.enter:{who}")).fields] for who in (one, other)]
    assert "late" not in keys[0] and "late" in keys[1]
