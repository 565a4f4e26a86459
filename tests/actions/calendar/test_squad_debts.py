"""Who still owes a part, and who is reminded of it."""

from datetime import timedelta

from tests.actions.conftest import Begin
from tests.actions.hand_in_cast import BRIEF, DAY, DEADLINE, add, window
from tests.actions.office_cast import until


async def test_reminders_and_digest_name_missing_parts_and_nobody_who_owes_nothing(begin: Begin) -> None:
    asking, crew, moles = await window(begin)
    for who in (1, 2, 3, 11):
        await add(asking, who)
    before = len(await asking.messages_to(f"squad/{crew}"))
    await until(asking, BRIEF + DAY + timedelta(hours=1))
    assert len(await asking.messages_to(f"squad/{crew}")) == before
    assert (
        "Student 12 and Student 13: please add your part to **Bunting**"
        in (await asking.messages_to(f"squad/{moles}"))[-1]
    )
    assert "**Muddy Teapots**: 2 parts of Bunting missing" in "\n".join(await asking.messages_to("office"))
    await until(asking, DEADLINE + DAY)
    assert "hand-in" not in (await asking.messages_to("office"))[-1]
