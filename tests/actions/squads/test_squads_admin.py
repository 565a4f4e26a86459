"""Squads as the coach looks after them: founded, filled, booked for, handed in for, and renamed."""

from datetime import UTC, datetime

from storage.records.message import Select
from tests.actions.conftest import Asking, Begin, button
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


async def test_an_unkind_name_is_changed_and_the_squad_told(begin: Begin) -> None:
    asking = await begin()
    moles = await make_squad(asking, 1, 3, "Muddy Teapots")
    await make_squad(asking, 11, 3, "Crooked Spoons")
    form = await asking.form(f"people.rename:{moles}")
    assert "no two names may be alike" in (await asking.message(form.key, fields={"squad": "Cr00ked Spoons"})).text
    assert "**Kind Teapots**" in (await asking.message(form.key, fields={"squad": "Kind Teapots"})).text
    assert "renamed your squad" in (await asking.messages_to(f"squad/{moles}"))[-1]
