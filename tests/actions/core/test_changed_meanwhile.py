"""Two people open the same form with a stored text: whoever sends it later reads what stands now, and loses nothing."""

from collections.abc import Awaitable, Callable

import pytest

from storage.records.message import Form, TextField
from storage.tables import helpers
from tests.actions.conftest import COACH, Asking, Begin, button
from tests.actions.hand_in_cast import drawing, handing_in
from tests.actions.plan.test_edit_events import CRITERIA
from tests.actions.questions_cast import ask, two_squads
from tests.actions.scored import whole

Opens = Callable[[Asking], Awaitable[Form]]
ONE, OTHER = "What the first coach has typed into it.", "What the second coach has typed into it."


async def feedback(begin: Begin) -> tuple[Asking, Opens, str]:
    asking, squads = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    return asking, lambda one: one.form(f"feedback.edit:{squads[0]}"), "text"


async def answer(begin: Begin) -> tuple[Asking, Opens, str]:
    asking = await two_squads(begin)
    await ask(asking)
    return asking, lambda one: one.form("rules.answer:1"), "answer"


async def unasked(begin: Begin) -> tuple[Asking, Opens, str]:
    return await two_squads(begin), lambda one: one.form("rules.unasked"), "answer"


async def brief(begin: Begin) -> tuple[Asking, Opens, str]:
    return await begin("drafting"), lambda one: one.form("plan.words"), "brief"


async def event(begin: Begin) -> tuple[Asking, Opens, str]:
    return await begin("drafting"), lambda one: one.form("plan.event", values=("bunting",)), "about"


async def absence(begin: Begin) -> tuple[Asking, Opens, str]:
    asking, squads = await whole(begin, state="judging")
    await asking.ask("table.undone:1:slip")
    return asking, lambda one: one.form(f"table.absence:run.socks:{squads[0]}"), "reason"


async def squad_name(begin: Begin) -> tuple[Asking, Opens, str]:
    asking = await two_squads(begin)
    return asking, lambda one: one.form("people.rename:1"), "squad"


async def part(begin: Begin) -> tuple[Asking, Opens, str]:
    asking = await two_squads(begin, **handing_in())
    return asking, lambda one: one.form("hand-in.enter:3"), "why"


def filled(form: Form, name: str, text: str) -> dict[str, str]:
    """The form as it opened, with one other text, as long as the others are long enough."""
    fields = {one.key: one.value for one in form.fields if isinstance(one, TextField)}
    if any(one.key == "state" for one in form.fields):
        fields["state"] = "absent"
    if "criteria" in fields:
        fields["criteria"] = CRITERIA
    fields |= {one.key: "no" for one in form.fields if one.key == "keep"}
    return {key: value or "May we use tape for the wheels?" for key, value in fields.items()} | {name: text}


@pytest.mark.parametrize("scene", [feedback, answer, unasked, brief, event, absence, squad_name, part])
async def test_the_later_one_reads_what_stands_now_and_gets_back_what_was_typed(
    begin: Begin, scene: Callable[[Begin], Awaitable[tuple[Asking, Opens, str]]]
) -> None:
    asking, opens, name = await scene(begin)
    first, second = await opens(asking), await opens(asking)
    assert first.key == second.key
    await asking.ask(first.key, fields=filled(first, name, ONE))
    for late in (second.key, second.key.rpartition(":")[0]):
        told = await asking.message(late, fields=filled(second, name, OTHER))
        assert "this was changed after you had opened the form" in told.text, "also without what the form opened with"
        assert f"> {ONE}" in told.text and f"> {OTHER}" in told.text
        assert "last changed by you, <t:" in told.text, "on another device"
        assert button(told, "Open it as it stands now").style == "main"
    again = await opens(asking)
    assert ONE in [one.value for one in again.fields if isinstance(one, TextField)], "the first one still stands"
    resent = await asking.message(first.key, fields=filled(first, name, ONE))
    assert "was changed after" not in resent.text, "whoever got no answer sends the same once more"
    said = await asking.message(again.key, fields=filled(again, name, OTHER))
    assert "was changed after" not in said.text
    assert OTHER in [one.value for one in (await opens(asking)).fields if isinstance(one, TextField)]


async def test_of_two_decisions_about_a_protest_the_second_is_not_taken_for_the_first(begin: Begin) -> None:
    asking, _ = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    text = {"text": "In our second run the sock on the rim was not counted."}
    await asking.ask("protest.filed", 10_000 + 100, fields=text)
    forms = [await asking.form(f"protests.why:1:{verdict}") for verdict in ("upheld", "rejected")]
    await asking.ask(forms[0].key, fields={"reason": "The photo shows it well"})
    told = await asking.message(forms[1].key, fields={"reason": "The sock lay outside of it"})
    assert "> The photo shows it well" in told.text and "> The sock lay outside of it" in told.text
    async with asking.store.read() as db:
        assert await db.value("SELECT verdict FROM protest") == "upheld"


HOLLOWAY, GREY, SCORER = 101, 102, 103
"""A second coach, one who is on no list, a scorekeeper."""


async def with_helpers(asking: Asking) -> Asking:
    async with asking.store.write() as db:
        await helpers.add_officer(db, 1, HOLLOWAY, "Ms Holloway", "coach")
        await helpers.add_officer(db, 1, SCORER, "Mr Reed", "scorekeeper")
    return asking


@pytest.mark.parametrize(("first", "by"), [(HOLLOWAY, "**Ms Holloway**"), (GREY, "somebody else"), (COACH, "you")])
async def test_a_coach_reads_which_coach_has_changed_the_plan(begin: Begin, first: int, by: str) -> None:
    asking = await with_helpers(await begin("drafting"))
    form = await asking.form("plan.words")
    await asking.filled("plan.words", first, fields={"name": "Try-out", "brief": ONE}, manages_server=True)
    told = await asking.message(form.key, fields={"name": "Try-out", "brief": OTHER})
    assert f"The plan was last changed by {by}, <t:" in told.text


async def test_a_coach_reads_which_student_has_renamed_the_squad_and_who_has_undone_it(begin: Begin) -> None:
    asking = await with_helpers(await two_squads(begin, state="signup"))
    forms = [await asking.form("people.rename:1"), await asking.form("people.rename:1")]
    await asking.filled("squad.rename", 1, fields={"squad": "Left Feet"})
    told = await asking.message(forms[0].key, fields={"squad": "Right Feet"})
    assert "This was last changed by **Student 1**, <t:" in told.text and "> Left Feet" in told.text
    await asking.filled("people.rename:1", fields={"squad": "Odd Mittens"})
    await asking.ask("correct.undo:1", HOLLOWAY)
    assert "**Ms Holloway**" in (await asking.message(forms[1].key, fields={"squad": "Right Feet"})).text


@pytest.mark.parametrize(("coach", "by"), [(HOLLOWAY, "your coach"), (GREY, "somebody else")])
async def test_a_captain_renames_nothing_that_the_coach_has_renamed_meanwhile(
    begin: Begin, coach: int, by: str
) -> None:
    asking = await with_helpers(await two_squads(begin, state="signup"))
    form = await asking.form("squad.rename", 1)
    await asking.filled("people.rename:1", coach, fields={"squad": "Left Feet"}, manages_server=True)
    told = await asking.message(form.key, 1, fields={"squad": "Right Feet"})
    assert f"This was last changed by {by}, <t:" in told.text and "Holloway" not in told.text
    assert "> Left Feet" in told.text and "> Right Feet" in told.text
    again = await asking.form(button(told, "Open it as it stands now").key, 1)
    assert "Right Feet" in (await asking.message(again.key, 1, fields={"squad": "Right Feet"})).text


async def test_a_captain_reads_which_captain_before_has_renamed_the_squad(begin: Begin) -> None:
    asking = await with_helpers(await two_squads(begin, state="signup"))
    await asking.ask("squad.captain-is", 1, values=("2",))
    form = await asking.form("squad.rename", 2)
    await asking.ask("squad.captain-is", 2, values=("1",))
    await asking.filled("squad.rename", 1, fields={"squad": "Left Feet"})
    await asking.ask("squad.captain-is", 1, values=("2",))
    assert "**Student 1**" in (await asking.message(form.key, 2, fields={"squad": "Right Feet"})).text


async def test_who_works_at_a_table_reads_who_of_those_who_run_it_has_changed_something(begin: Begin) -> None:
    asking, squads = await whole(begin, state="judging")
    await with_helpers(asking)
    await asking.ask("table.undone:1:slip")
    opens = f"table.absence:run.socks:{squads[0]}"
    form = await asking.form(opens, SCORER)
    await asking.filled(opens, HOLLOWAY, fields={"state": "absent", "reason": ONE})
    told = await asking.message(form.key, SCORER, fields={"state": "absent", "reason": OTHER})
    assert "This was last changed by **Ms Holloway**, <t:" in told.text


async def test_of_two_coaches_who_enter_a_part_the_later_one_is_told_to_attach_the_photo_again(begin: Begin) -> None:
    asking = await with_helpers(await two_squads(begin, **handing_in()))
    forms = [await asking.form("hand-in.enter:3", who) for who in (HOLLOWAY, COACH)]
    await asking.ask(forms[0].key, HOLLOWAY, fields={"why": ONE})
    told = await asking.message(forms[1].key, fields={"why": OTHER}, uploads={"photo": drawing()})
    assert "last changed by **Ms Holloway**" in told.text and "Please attach your file again" in told.text
    assert f"> {ONE}" in told.text and f"> {OTHER}" in told.text
    async with asking.store.read() as db:
        assert tuple((await db.rows("SELECT reason, photo FROM hand_in"))[0]) == (ONE, None)


async def test_nobody_is_named_once_names_have_been_erased(begin: Begin) -> None:
    asking = await with_helpers(await two_squads(begin, state="signup"))
    form = await asking.form("people.rename:1")
    await asking.filled("squad.rename", 1, fields={"squad": "Left Feet"})
    async with asking.store.write() as db:
        await db.run("UPDATE student SET name = '(erased)', platform_id = NULL WHERE id = 1")
    assert "last changed by somebody else" in (await asking.message(form.key, fields={"squad": "Right Feet"})).text
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET audit_key = NULL")
        await db.run("UPDATE audit_log SET actor = 'person'")
    assert "last changed" not in (await asking.message(form.key, fields={"squad": "Right Feet"})).text
