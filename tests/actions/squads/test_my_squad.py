"""My squad, the student's page."""

from datetime import UTC, datetime

import pytest

from storage.records.message import Select
from storage.records.tryout import State
from storage.tables import rooms, squads, students, tryouts
from tests.actions.conftest import COACH, Asking, Begin, button
from tests.actions.event_day.day_cast import made, slots
from tests.actions.office_cast import make_squad, texts
from tests.actions.practice_cast import book, window

LATE = {"name": "Flo", "section": "7-A"}


async def mine(asking: Asking, who: int) -> str:
    return (await asking.message("squad.mine", who)).text


async def test_the_page_names_who_has_what_left_to_do_and_leads_there(begin: Begin) -> None:
    asking, squad, _ = await window(begin)
    me, members = 1, range(3)
    async with asking.store.write() as db:
        await rooms.opened(db, squad, 4321, "room")
    message = await asking.message("squad.mine", me)
    assert message.text.count(": still to read the brief") == len(members)
    assert "<#4321>" in message.text and "none to come" in message.text
    assert button(message, "Open the brief").style == "main"
    async with asking.store.write() as db:
        one = await students.student_of(db, (await asking.tryout()).id, me)
        assert one is not None
        await students.brief_opened(db, one.id, asking.now)
    assert (await mine(asking, me)).count("read the brief") == len(members) - 1
    assert button(await asking.message("squad.mine", me), "Open the brief").style == "plain"
    assert {"Ask about the rules", "All answers"} <= {
        one.label for row in message.rows if isinstance(row, tuple) for one in row
    }


async def test_who_helps_and_presses_what_is_for_a_squad_is_not_asked_to_join_one(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    refused = await asking.message("squad.room", COACH)
    assert "helps to run this try-out cannot be in a squad" in refused.text


async def test_members_of_a_squad_that_was_taken_out_read_so_until_they_have_another_one(begin: Begin) -> None:
    asking, squad, _ = await window(begin)
    listed = await asking.message(f"people.withdrawn:{squad}", fields={"reason": "They asked for it"})
    assert "is taken out" in listed.text and "My squad" in listed.text
    word = await mine(asking, 1)
    assert "does not take part any more" in word and "Thank you" in word and "ask your coach" in word
    assert "They asked for it" not in word and "I came late" not in word
    async with asking.store.write() as db:
        keys = ("pickles", "pickles", "pickles")
        other = await squads.add_squad(
            db, (await asking.tryout()).id, "Curly Pickles", keys, "7-A", "ABCDE", asking.now
        )
        one = await students.student_of(db, (await asking.tryout()).id, 1)
    assert one is not None
    await asking.ask(f"people.placed:{one.id}", values=(str(other),))
    assert "Curly Pickles" in await mine(asking, 1)


async def test_while_sign_up_is_open_they_are_shown_the_way_into_another_squad(begin: Begin) -> None:
    asking = await begin()
    squad = await make_squad(asking, 1, 3, "Muddy Teapots")
    await asking.ask(f"people.withdrawn:{squad}", fields={"reason": "It stood there twice"})
    message = await asking.message("squad.mine", 1)
    assert "**Muddy Teapots** does not take part any more" in message.text
    assert {"Join a squad", "Start a squad"} <= set(texts(message))


@pytest.mark.parametrize(
    ("state", "said"),
    [
        ("window", ""),
        ("judging", "The result comes in news"),
        ("settled", "The result comes in news"),
        ("announced", "own result is in your squad's room"),
    ],
)
async def test_the_page_says_when_the_result_comes_and_then_where_it_is(begin: Begin, state: State, said: str) -> None:
    asking = await begin()
    await make_squad(asking, 1, 3, "Muddy Teapots")
    async with asking.store.write() as db:
        await tryouts.set_state(db, (await asking.tryout()).id, state)
    text = await mine(asking, 1)
    assert said in text if said else "result" not in text


async def test_the_button_for_a_turn_is_off_once_the_share_is_booked_and_says_when_it_is_on_again(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    me = 1
    message = await asking.message("squad.mine", me)
    while not button(message, "Book a turn").disabled:
        offered = await asking.message("practice.book", me)
        (choices,) = [row.choices for row in offered.rows if isinstance(row, Select)]
        await book(asking, me, datetime.fromtimestamp(int(choices[0].value), UTC))
        message = await asking.message("squad.mine", me)
    assert button(message, "Book a turn").disabled
    assert "You can book from <t:" in message.text


async def test_the_page_has_the_squads_own_times_once_squads_were_told_and_until_they_are_past(begin: Begin) -> None:
    asking = await made(begin, squads=2)
    first, *_ = await squads_of(asking)
    every = [*await slots(asking, "run"), *await slots(asking, "interview")]
    mine = [slot.begins_at for slot in every if slot.squad_id == first]
    assert mine
    who = 10_100
    text = (await asking.message("squad.mine", who)).text
    assert "Your times on the event day: " in text
    assert all(f"<t:{int(at.timestamp())}:F>" in text for at in mine)
    asking.now = max(mine)
    assert "on the event day" not in (await asking.message("squad.mine", who)).text


async def squads_of(asking: Asking) -> list[int]:
    async with asking.store.read() as db:
        return [row["id"] for row in await db.rows("SELECT id FROM squad ORDER BY id")]
