"""Coaches and helpers are added and dismissed by coaches."""

from storage.records.message import PersonSelect
from storage.records.request import Person
from tests.actions.conftest import COACH, Begin, button

OTHER = 200


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
