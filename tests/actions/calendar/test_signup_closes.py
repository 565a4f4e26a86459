"""Sign-up closes at its time, in the morning after a night, or with a brief that is released before."""

from datetime import timedelta

from bot.actions.core.live_messages import compose
from tests.actions.conftest import Begin
from tests.actions.office_cast import BRIEF, DAY, make_squad, off_until, until


async def test_a_close_of_sign_up_missed_into_the_night_is_told_in_the_morning_and_shows_at_once(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    small = await make_squad(asking, 1, 2, "Muddy Teapots")
    said = len(await asking.messages_to(f"squad/{small}"))
    await off_until(asking, BRIEF + timedelta(hours=8))
    async with asking.store.read() as db:
        card = await compose(db, await asking.tryout(), "signup")
    assert card is not None and "Sign-up is closed" in card.text
    assert len(await asking.messages_to(f"squad/{small}")) == said
    await until(asking, BRIEF + timedelta(hours=16))
    told = (await asking.messages_to(f"squad/{small}"))[said:]
    assert "needs 1 more" in told[0] and "The brief is out" in told[1]
    assert sum("Sign-up is closed" in text for text in await asking.messages_to("office")) == 1


async def test_a_sign_up_that_ends_with_a_brief_released_early_is_told_once(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    small = await make_squad(asking, 1, 2, "Muddy Teapots")
    await asking.confirm("brief.release")
    await until(asking, BRIEF + DAY)
    assert sum("Sign-up is closed" in text for text in await asking.messages_to("office")) == 1
    assert sum("Sign-up is closed" in text for text in await asking.messages_to(f"squad/{small}")) == 1
