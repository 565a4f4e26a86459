"""Students answer what is proposed to them by a press, and nothing that they were not shown."""

from tests.actions.conftest import Begin, button
from tests.actions.office_cast import make_squad, texts
from tests.actions.squads.test_proposals import ACCEPT, NO, YES, filled_up, lonely, propose, say, squad_of
from tests.actions.squads.test_students_admin import entered, student_id


async def test_students_agree_by_a_press_and_a_new_squad_is_founded_when_all_have(begin: Begin) -> None:
    asking = await begin()
    await lonely(asking, 1, 2)
    shy = await entered(asking, "Shy One")
    draft = await asking.message("proposal.look")
    assert "Nothing is proposed" in (await asking.message("proposal.yes", 1)).text
    accepted = await asking.message(button(draft, ACCEPT).key)
    assert "I have asked 2 students" in accepted.text
    (notice,) = await asking.messages_to("signup")
    assert "Press **My squad**" in notice and "Student" not in notice
    offer = await asking.message("squad.mine", 1)
    assert "a new squad together with Student 2 and Shy One" in offer.text
    waits = await asking.message(button(offer, "Yes, I agree").key, 1)
    assert "when the others have answered" in waits.text
    assert texts(await asking.message("squad.mine", 1)) == ["No, thank you"]
    assert "(yes)" in (await asking.message("proposal.show")).text
    assert "You are in **New squad 1**" in (await say(asking, 2)).text
    assert [await squad_of(asking, who) for who in (1, 2)] == ["New squad 1"] * 2
    async with asking.store.read() as db:
        assert await db.value("SELECT squad_id FROM student WHERE id = ?", shy) == 1
        assert await db.value("SELECT captain_id FROM squad") == await student_id(asking, "Student 1")
    assert "**New squad 1**, section 7-A" in (await asking.message("squad.mine", 1)).text


async def test_a_small_squad_is_filled_and_who_declines_stays_free(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 11, 2, "Crooked Spoons")
    await lonely(asking, 1, 2)
    await propose(asking)
    offer = await asking.message("squad.mine", 1)
    assert "a place in **Crooked Spoons**, with Student 11 and Student 12" in offer.text
    assert "You are in **Crooked Spoons**" in (await asking.message(button(offer, "Yes, I agree").key, 1)).text
    assert "does not want the squad" not in "".join(await asking.messages_to("office"))
    await say(asking, 2, NO)
    assert "does not want the squad" in (await asking.messages_to("office"))[-1]
    assert await squad_of(asking, 2) is None
    assert "not in a squad" in (await asking.message("squad.mine", 2)).text


async def test_whose_place_is_gone_is_told_kindly_and_the_coach_knows(begin: Begin) -> None:
    asking = await filled_up(begin)
    assert "Sorry, that place is gone" in (await say(asking, 1)).text
    assert "**Student 1** of section 7-A agreed" in (await asking.messages_to("office"))[-1]
    assert await squad_of(asking, 1) is None
    assert "proposes" not in (await asking.message("squad.mine", 1)).text


async def test_a_student_answers_what_was_shown_and_nothing_else(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 11, 2, "Crooked Spoons")
    await lonely(asking, 1, 4)
    await propose(asking)
    offer = await asking.message("squad.mine", 1)
    assert "Crooked Spoons" in offer.text
    await asking.ask(f"proposal.changed:{await student_id(asking, 'Student 1')}", values=("new-1",))
    again = await asking.message(button(offer, NO).key, 1)
    assert again.text.startswith("**This has changed after you opened it**")
    assert again == await asking.message(button(offer, YES).key, 1)
    old = await asking.message("proposal.yes", 1)
    assert old.text == again.text, "one that an older version has posted says nothing of what it shows"
    assert "I wait for the others" not in (await asking.message("squad.mine", 1)).text
    assert "Thank you" in (await asking.message(button(again, "Yes, I agree").key, 1)).text
