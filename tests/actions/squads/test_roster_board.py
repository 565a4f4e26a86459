"""What stands on the board of squads."""

from bot.actions.squads.members import by_squad
from bot.rules.squads.code_names import code_name
from bot.words.squads.roster_board import boards
from storage.records.plan import Squads
from tests.actions.conftest import Begin
from tests.actions.office_cast import make_squad
from tests.actions.squads.test_proposals import lonely


async def test_the_board_counts_those_who_need_a_squad_and_names_nobody(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 11, 3, "Crooked Spoons")
    await lonely(asking, 1, 2)
    assert "2 students of your section have no squad yet." in (await asking.message("squad.mine", 12)).text
    panel = await asking.message("people.panel")
    assert "Without a squad: Student 1 (7-A), Student 2 (7-A)" in panel.text


async def test_on_the_board_stand_code_names_where_the_plan_says_so(begin: Begin) -> None:
    asking = await begin(squads=Squads(smallest=3, largest=5, board="code-names"))
    await make_squad(asking, 1, 3, "Crooked Spoons")
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        shown = "".join(one.text for one in boards(tryout.plan, await by_squad(db, tryout)))
        first = await db.value("SELECT id FROM student WHERE platform_id = 1")
    assert "Student" not in shown.replace("students", "") and f"{code_name(first)} (captain)" in shown
    mine = (await asking.message("squad.mine", 1)).text
    assert f"On the board you are **{code_name(first)}**." in mine and "Student 2" in mine
