"""A try-out is stopped before its result: who is told, and what still comes of it."""

from tests.actions.conftest import Asking, Begin


async def still_to_come(asking: Asking) -> set[str]:
    async with asking.store.read() as db:
        return {row["kind"] for row in await db.rows("SELECT kind FROM scheduled_job WHERE state = 'waiting'")}


async def test_the_class_is_told_and_nothing_comes_any_more_but_the_day_on_which_names_are_erased(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    assert {"brief", "digest"} <= await still_to_come(asking)
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    assert "has been called off" in (await asking.messages_to("news"))[-1]
    assert await still_to_come(asking) == {"purge"}


async def test_a_class_that_knows_of_nothing_is_told_nothing(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.yes("tryout.ask-archive", "Yes, put it away")
    assert not await asking.messages_to("news")
