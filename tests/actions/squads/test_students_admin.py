"""The coach's help for people: helpers, students without an account, exceptions with a reason, squads."""

from datetime import UTC, datetime

from storage.records.message import PersonSelect, Select
from storage.records.request import Person
from tests.actions.conftest import COACH, Asking, Begin, button
from tests.actions.office_cast import make_squad, texts, until

OTHER = 200
BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)


async def student_id(asking: Asking, name: str) -> int:
    async with asking.store.read() as db:
        return int(await db.value("SELECT id FROM student WHERE name = ?", name))


async def entered(asking: Asking, name: str, section: str = "7-A") -> int:
    await asking.ask("people.entered", fields={"name": name, "section": section})
    return await student_id(asking, name)


async def decisions(asking: Asking) -> list[tuple[object, ...]]:
    async with asking.store.read() as db:
        return [tuple(row) for row in await db.rows("SELECT kind, squad_id, student_id, reason FROM decision")]


async def test_a_coach_enrols_another_coach_who_then_may_do_the_same(begin: Begin) -> None:
    asking = await begin()
    assert "Only a coach" in (await asking.message("office", OTHER)).text
    panel = await asking.message("people.panel")
    assert [row.prompt for row in panel.rows if isinstance(row, PersonSelect)] == ["Erase a person's name everywhere"]
    helpers = await asking.message(button(panel, "Coaches and helpers").key)
    selects = [row.prompt for row in helpers.rows if isinstance(row, PersonSelect)]
    assert selects == ["Add a coach", "Add a scorekeeper", "Add a typist"]
    said = await asking.message("people.coach", values=("200",), people=(Person(id=OTHER, name="Ms Reed"),))
    assert "Ms Reed: coach from now on" in said.text and "**/my-squad**" in said.text
    assert "You are a coach" in (await asking.message("squad.mine", OTHER)).text
    assert "sign-up is open" in (await asking.message("office", OTHER)).text
    keeper = await asking.message("people.scorekeeper", OTHER, people=(Person(id=300, name="Sam"),))
    assert "Scorekeepers record attempts at the table: Sam" in keeper.text
    assert "Only a coach" in (await asking.message("people.panel", 300)).text


async def test_a_coach_is_dismissed_but_the_last_one_only_by_who_manages_the_server(begin: Begin) -> None:
    asking = await begin()
    await asking.ask("people.coach", people=(Person(id=OTHER, name="Ms Reed"),))
    await asking.ask("people.dismiss", OTHER, values=(f"coach/{COACH}",))
    assert "You are the last coach" in (await asking.message("people.dismiss", OTHER, values=(f"coach/{OTHER}",))).text
    await asking.ask("people.dismiss", COACH, values=(f"coach/{OTHER}",))
    assert "Only a coach" in (await asking.message("office", OTHER)).text


async def test_a_program_is_not_made_a_coach(begin: Begin) -> None:
    asking = await begin()
    robot = Person(id=9, name="Beep", program=True)
    assert "is a program's account" in (await asking.message("people.coach", people=(robot,))).text


async def test_a_student_without_an_account_is_entered_and_placed(begin: Begin) -> None:
    asking = await begin()
    squad = await make_squad(asking, 1, 2, "Crooked Spoons")
    cy = await entered(asking, "Cy")
    listed = await asking.message("people.students:0")
    select = next(row for row in listed.rows if isinstance(row, Select))
    assert (select.choices[0].label, select.choices[0].note) == ("Cy", "7-A; without a squad")
    card = await asking.message(select.key, values=(select.choices[0].value,))
    assert "has no account here" in card.text
    pick = await asking.message(button(card, "Place in a squad").key)
    where = next(row for row in pick.rows if isinstance(row, Select))
    placed = await asking.message(where.key, values=(str(squad),))
    assert "**Cy**, section 7-A, in **Crooked Spoons**" in placed.text
    assert (await asking.messages_to(f"squad/{squad}"))[-1] == "👥 Cy has joined the squad."
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM room_seat WHERE platform_id IS NULL OR platform_id = ?", cy) == 0


async def test_a_student_moves_to_another_squad_also_after_sign_up_is_closed(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    crew = await make_squad(asking, 1, 4, "Crooked Spoons")
    moles = await make_squad(asking, 11, 2, "Muddy Teapots")
    await until(asking, BRIEF)
    one = await student_id(asking, "Student 1")
    assert "in **Muddy Teapots**" in (await asking.message(f"people.placed:{one}", values=(str(moles),))).text
    assert "Student 2 is captain now" in (await asking.messages_to(f"squad/{crew}"))[-1]
    again = await asking.message(f"people.placed:{one}", values=(str(moles),))
    assert "is in **Muddy Teapots** already" in again.text


async def test_a_seat_the_plan_does_not_give_takes_a_reason(begin: Begin) -> None:
    asking = await begin()
    crew = await make_squad(asking, 1, 5, "Crooked Spoons")
    cy = await entered(asking, "Cy", "7-B")
    asked = await asking.message(f"people.placed:{cy}", values=(str(crew),))
    assert asked.text.startswith("**Crooked Spoons** is for section 7-A.\nYou can still place **Cy** there")
    ann = await entered(asking, "Ann", "7-A")
    full = (await asking.message(f"people.placed:{ann}", values=(str(crew),))).text
    assert full.startswith("**Crooked Spoons** is full: 5 is the most.\nYou can still place"), "no advice for students"
    form = await asking.form(button(asked, "Place anyway, with a reason").key)
    assert "reason" in (await asking.message(form.key, fields={"reason": "  "})).text
    assert await decisions(asking) == []
    await asking.ask(form.key, fields={"reason": "Changed section on day 4"})
    assert await decisions(asking) == [("seat", crew, cy, "Changed section on day 4")]
    async with asking.store.read() as db:
        assert await db.value("SELECT count(*) FROM student WHERE squad_id = ?", crew) == 6
        trail = "".join(row[0] for row in await db.rows("SELECT details_json FROM audit_log"))
    assert "Changed section" not in trail and "Cy" not in trail


async def test_a_small_squad_is_allowed_for_a_reason_and_no_longer_nagged(begin: Begin) -> None:
    asking = await begin()
    moles = await make_squad(asking, 1, 2, "Muddy Teapots")
    card = await asking.message("people.squad", values=(str(moles),))
    form = await asking.form(button(card, "Let it be small").key)
    after = await asking.message(form.key, fields={"reason": "Small section"})
    assert "Let it be small" not in texts(after)
    assert "Too small" not in (await asking.message("office")).text
    assert "large enough" in (await asking.message(form.key, fields={"reason": "Again"})).text
    assert len(await decisions(asking)) == 1


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


async def test_an_unkind_name_is_changed_and_the_squad_told(begin: Begin) -> None:
    asking = await begin()
    moles = await make_squad(asking, 1, 3, "Muddy Teapots")
    await make_squad(asking, 11, 3, "Crooked Spoons")
    form = await asking.form(f"people.rename:{moles}")
    assert "no two names may be alike" in (await asking.message(form.key, fields={"squad": "Cr00ked Spoons"})).text
    assert "**Kind Teapots**" in (await asking.message(form.key, fields={"squad": "Kind Teapots"})).text
    assert "renamed your squad" in (await asking.messages_to(f"squad/{moles}"))[-1]


async def test_the_coach_takes_a_student_out_and_makes_another_captain(begin: Begin) -> None:
    asking = await begin()
    moles = await make_squad(asking, 1, 3, "Muddy Teapots")
    three = await student_id(asking, "Student 3")
    assert "(captain)" in (await asking.message(f"people.lead:{three}")).text
    sure = await asking.message(f"people.out:{three}")
    said = sure.text.split("> ")[1]
    after = await asking.message(button(sure, "Yes, take out").key)
    assert "without a squad" in after.text
    assert (await asking.messages_to(f"squad/{moles}"))[-1].startswith(said)
    assert "is in no squad" in (await asking.message(f"people.taken:{three}")).text


async def test_long_lists_of_students_and_squads_are_paged(begin: Begin) -> None:
    asking = await begin()
    for number in range(27):
        await make_squad(asking, 10 + number, 1, f"Squad number {number + 1}")
    cy = await entered(asking, "Cy")
    for key in ("people.students:0", "people.squads:0", f"people.place:{cy}:0"):
        first = await asking.message(key)
        second = await asking.message(button(first, "Next page 2 of 2").key)
        assert "page 2 of 2" in second.text
        shown = [row for row in (*first.rows, *second.rows) if isinstance(row, Select)]
        assert sum(len(row.choices) for row in shown) in (27, 28)


async def test_someone_of_another_try_out_is_not_here(begin: Begin) -> None:
    asking = await begin()
    for key in ("people.placed:999", "people.out:999", "people.forget:999", "people.lead:999"):
        assert "no longer here" in (await asking.message(key, values=("1",))).text
    for key in ("people.rename:999", "people.small:999", "people.withdraw:999"):
        assert "no longer there" in (await asking.message(key)).text
