"""Somebody leaves for good: their part of the hand-in stays or goes, and why is for coaches alone."""

from datetime import timedelta

from bot.actions.results.listed_changes import plan_changes
from bot.words.results.listed_changes import change_lines
from tests.actions.conftest import Begin, button
from tests.actions.squads.test_merge_squads import PART, two
from tests.actions.squads.test_students_admin import decisions, student_id


async def test_a_leavers_part_stays_where_the_coach_says_so(begin: Begin) -> None:
    asking, _, teapots = await two(begin)
    await asking.ask("hand-in.save", 12, fields=PART)
    one = await student_id(asking, "Student 12")
    card = await asking.message("people.student", values=(str(one),))
    form = await asking.form(button(card, "Leaves for good").key)
    assert [field.key for field in form.fields] == ["reason", "parts"]
    await asking.ask(form.key, fields={"reason": "Moved to another town", "parts": "stay"})
    read = await asking.message("hand-in.parts", 11)
    assert "somebody who has left" in read.text and "sorted the socks" in read.text
    assert await decisions(asking) == [("part", teapots, one, "")]
    card = await asking.message("people.student", values=(str(one),))
    await asking.ask(button(card, "Undo: the move").key)
    read = await asking.message("hand-in.parts", 11)
    assert "Student 12" in read.text and "somebody who has left" not in read.text


async def test_why_somebody_leaves_is_read_in_the_office_alone_as_the_form_says(begin: Begin) -> None:
    asking, spoons, teapots = await two(begin)
    await asking.ask("hand-in.save", 12, fields=PART)
    one = await student_id(asking, "Student 12")
    form = await asking.form(f"leaver.ask:{one}")
    assert form.fields[0].hint.startswith("Only coaches can read it.")
    await asking.ask(form.key, fields={"reason": "The parents part", "parts": "stay"})
    assert "**Student 12** has left **Muddy Teapots** for good. Why: The parents part" in await asking.messages_to(
        "office"
    )
    for address in ("news", "signup", f"squad/{spoons}", f"squad/{teapots}"):
        assert "parents part" not in "".join(await asking.messages_to(address))
    async with asking.store.write() as db:
        await db.run("UPDATE decision SET reason = 'As an older version kept it'")
        changes = await plan_changes(db, await asking.tryout())
    lines = change_lines(changes, 1000)
    assert "- it was decided whether the part of somebody who left Muddy Teapots stays" in lines
    assert "reason" not in lines and "older version" not in lines


async def test_otherwise_it_goes_along(begin: Begin) -> None:
    asking, _, _ = await two(begin)
    await asking.ask("hand-in.save", 12, fields=PART)
    asking.now += timedelta(minutes=1)
    one = await student_id(asking, "Student 12")
    await asking.ask(f"leaver.gone:{one}", fields={"reason": "Does not want to", "parts": "go"})
    assert "sorted the socks" not in (await asking.message("hand-in.parts", 11)).text
