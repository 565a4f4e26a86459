"""Students as the coach looks after them: entered without an account, in long lists, and none of another try-out."""

from datetime import UTC, datetime

from storage.records.message import Select
from tests.actions.conftest import Asking, Begin, button
from tests.actions.office_cast import make_squad

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
