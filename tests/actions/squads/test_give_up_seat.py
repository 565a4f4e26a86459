"""A seat that is given up: who leads then, and what becomes of an empty squad."""

from tests.actions.conftest import Begin
from tests.actions.squads.test_sign_up import code_of, found, join


async def test_when_the_captain_leaves_the_next_oldest_member_leads(begin: Begin) -> None:
    asking = await begin()
    await found(asking, 1, "Crooked Spoons")
    code = await code_of(asking, 1)
    await join(asking, 2, code)
    await join(asking, 3, code)
    assert "Student 2 would be captain then" in (await asking.message("squad.leave", 1)).text
    assert "captain" not in (await asking.message("squad.leave", 2)).text
    await asking.yes("squad.leave", "Yes, leave", 1)
    assert "Student 2 (captain)" in (await asking.message("squad.mine", 3)).text


async def test_an_empty_squad_is_closed_and_its_name_is_free_again(begin: Begin) -> None:
    asking = await begin()
    await found(asking, 1, "Crooked Spoons")
    await asking.yes("squad.leave", "Yes, leave", 1)
    assert "captain" in await found(asking, 2, "Crooked Spoons")
