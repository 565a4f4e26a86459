"""A squad is taken out for a reason; its members, and its practice turns, are free."""

import bot.actions.results.announce
import bot.actions.results.feedback
import bot.actions.results.place_offers  # noqa: F401
from storage.tables import squads
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import make_squad
from tests.actions.practice_cast import FIRST, book, card, card_text, window
from tests.actions.results.test_place_offers import announced
from tests.actions.squads.test_students_admin import decisions


async def test_a_squad_is_taken_out_for_a_reason_and_its_members_are_free(begin: Begin) -> None:
    asking = await begin()
    moles = await make_squad(asking, 1, 3, "Muddy Teapots")
    card = await asking.message("people.squad", values=(str(moles),))
    form = await asking.form(button(card, "Take the squad out").key)
    await asking.ask(form.key, fields={"reason": "They asked for it"})
    assert await decisions(asking) == [("withdrawn", moles, None, "They asked for it")]
    assert "0 squads with 0 students" in (await asking.message("people.panel")).text
    assert "Student 1 (7-A)" in (await asking.message("people.panel")).text
    assert "no longer there" in (await asking.message(form.key, fields={"reason": "Twice"})).text
    fields = {"squad": "Muddy Teapots", "name": "Student 1", "section": "7-A"}
    assert "you are its captain" in (await asking.message("squad.found", 1, fields=fields)).text


async def test_the_turns_of_a_squad_that_is_taken_out_are_free_again(begin: Begin) -> None:
    asking, comets, _ = await window(begin)
    await book(asking, 1, FIRST)
    await asking.ask(f"people.withdrawn:{comets}", fields={"reason": "moved away"})
    assert "Crooked" not in await card_text(asking, "turns/1")
    assert await card(asking, f"practice/{comets}") is None
    assert "Booked" in await book(asking, 11, FIRST)


async def test_once_the_result_is_announced_no_squad_leaves_it(begin: Begin) -> None:
    asking, ids = await announced(begin)
    before = (await asking.message("offer.panel")).text
    for press in (f"people.withdraw:{ids[0]}", f"people.withdrawn:{ids[0]}"):
        assert (
            "no squad is taken out any more" in (await asking.message(press, fields={"reason": "They fell out"})).text
        )
    async with asking.store.read() as db:
        members = await squads.members(db, ids[0])
    for member in members:
        await asking.ask(f"people.taken:{member.id}", fields={"reason": "They fell out"})
    async with asking.store.read() as db:
        squad = await squads.squad(db, ids[0])
    assert squad is not None and not squad.withdrawn
    assert (await asking.message("offer.panel")).text == before
