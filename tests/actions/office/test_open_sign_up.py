"""Sign-up opens once, for the plan that was shown, and not without what it needs."""

from datetime import UTC, datetime

from storage.tables import tryouts
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import BRIEF, make_squad, texts


async def test_sign_up_does_not_open_without_channels_or_after_its_dates(begin: Begin) -> None:
    asking = await begin("drafting")
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET rooms_json = '{\"signup\": 50}'")
    answer = await asking.message("signup.open")
    assert "Choose the channels for news, squads and office" in answer.text
    assert (await asking.tryout()).state == "drafting"
    asking.now = BRIEF
    for key in ("signup.ask", "signup.open"):
        assert "The date of the brief is past" in (await asking.message(key)).text
    assert texts(await asking.message("office"))[0] == "Choose the channels"


async def test_a_sign_up_that_would_be_closed_already_does_not_open(begin: Begin) -> None:
    asking = await begin("drafting")
    fields = {"date": "2027-01-11", "time": "15:30", "days": "10", "remind": "16:00", "closes": "2027-01-05 08:00"}
    await asking.filled("plan.dates", fields=fields)
    asking.now = datetime(2027, 1, 6, 12, tzinfo=UTC)
    office = await asking.message("office")
    assert "Sign-up would be closed already" in office.text
    assert texts(office)[0] == "Set new dates"


async def test_a_step_is_taken_once(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    assert "taken already" in (await asking.message("signup.open")).text
    assert len(await asking.messages_to("news")) == 1


async def test_a_step_is_taken_for_the_plan_that_was_shown_and_for_no_other(begin: Begin) -> None:
    """Another coach may have changed it meanwhile; a button of an older version names no plan."""
    asking = await begin("drafting")
    other = (await asking.tryout()).plan.model_copy(update={"name": "Another name that nobody has read"})
    first = (await asking.tryout()).plan
    shown = button(await asking.message("signup.ask"), "Yes, open sign-up").key
    assert "Yes, open sign-up" in texts(await asking.message("signup.open"))
    for plan, said in ((other, "has changed since you looked"), (first, "Sign-up is open")):
        async with asking.store.write() as db:
            await tryouts.set_plan(db, 1, plan)
        assert said in (await asking.message(shown)).text
    await make_squad(asking, 1, 3, "Crooked Spoons")
    shown = button(await asking.message("brief.ask"), "Yes, release the brief").key
    assert "Yes, release the brief" in texts(await asking.message("brief.release"))
    for plan, said in ((other, "has changed since you looked"), (first, "The brief is out")):
        async with asking.store.write() as db:
            await tryouts.set_plan(db, 1, plan)
        assert said in (await asking.message(shown)).text
