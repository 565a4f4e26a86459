"""What the platform shows of a live message, when nobody knows whether an answer arrived."""

from bot.actions.core.live_messages import look_again, not_shown
from storage.tables import live_messages
from tests.actions.conftest import Asking, Begin

LIST = 4711


async def with_cards(begin: Begin) -> Asking:
    asking = await begin()
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        for key in ("judge/1", "roster/1"):
            await live_messages.place(db, tryout.id, key, key)
        await db.run("UPDATE live_message SET message_id = ? + id, shown = 'as before', stale = 0", LIST)
    return asking


async def stale(asking: Asking) -> set[str]:
    async with asking.store.read() as db:
        return {row["key"] for row in await db.rows("SELECT key FROM live_message WHERE stale > 0 AND shown = ''")}


async def test_a_card_whose_change_was_lost_is_shown_anew(begin: Begin) -> None:
    asking = await with_cards(begin)
    await not_shown(asking.store, LIST + 1)
    assert await stale(asking) == {"judge/1"}


async def test_another_message_changes_nothing(begin: Begin) -> None:
    asking = await with_cards(begin)
    await not_shown(asking.store, 1)
    assert await stale(asking) == set()


async def test_after_a_start_the_lists_that_answers_change_are_shown_anew(begin: Begin) -> None:
    asking = await with_cards(begin)
    await look_again(asking.store)
    assert await stale(asking) == {"judge/1"}
