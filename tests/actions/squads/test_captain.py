"""What a captain does with the own squad, and whom the coach makes captain."""

from tests.actions.conftest import Begin
from tests.actions.office_cast import make_squad
from tests.actions.squads.test_sign_up import code_of, found, join
from tests.actions.squads.test_students_admin import student_id


async def test_only_the_captain_renames_hands_over_and_removes(begin: Begin) -> None:
    asking = await begin()
    await found(asking, 1, "Crooked Spoons")
    await join(asking, 2, await code_of(asking, 1))
    for key in ("squad.rename", "squad.captain", "squad.remove"):
        assert "Only the captain" in (await asking.message(key, 2)).text
    form = await asking.form("squad.rename", 1)
    renamed = await asking.message(form.key, 1, fields={"squad": "Sleepy Turnips"})
    assert "now called **Sleepy Turnips**" in renamed.text
    told = [text for text in await asking.messages_to("squad/1") if "Sleepy Turnips" in text]
    assert len(told) == 1
    again = await asking.message(form.key, 1, fields={"squad": "Sleepy Turnips"})
    assert again.text == renamed.text, "whoever got no answer sends it once more"
    assert [text for text in await asking.messages_to("squad/1") if "Sleepy Turnips" in text] == told
    assert (await asking.messages_to("squad/1"))[-1] == "👥 Your squad is called **Sleepy Turnips** now."


async def test_the_coach_makes_another_member_captain(begin: Begin) -> None:
    asking = await begin()
    moles = await make_squad(asking, 1, 3, "Muddy Teapots")
    three = await student_id(asking, "Student 3")
    assert "(captain)" in (await asking.message(f"people.lead:{three}")).text
    assert "Student 3** is captain now" in (await asking.messages_to(f"squad/{moles}"))[-1]
