"""What is delivered twice is done once, and answered as the first time."""

import bot.actions.squads.captain
import bot.actions.squads.sign_up  # noqa: F401
from bot.actions.core.dispatch import ACTIONS, perform
from bot.words.core.action_keys import ActionKey
from storage.records.message import Say
from storage.records.request import Request
from tests.actions.conftest import SERVER, Begin
from tests.actions.squads.test_sign_up import found


async def test_a_press_delivered_twice_gets_the_first_answer_again_and_acts_once(begin: Begin) -> None:
    asking = await begin()
    request = Request(
        id=1,
        at=asking.now,
        who=1,
        name="Ana",
        server_id=SERVER,
        fields={"squad": "Crooked Spoons", "name": "Ana", "section": "7-A"},
    )
    first = await perform(asking.store, ACTIONS[ActionKey.SQUAD_FOUND], request)
    again = await perform(asking.store, ACTIONS[ActionKey.SQUAD_FOUND], request)
    assert first == again
    assert isinstance(first, Say) and "captain" in first.message.text


async def test_a_refused_press_delivered_twice_is_refused_twice(begin: Begin) -> None:
    asking = await begin()
    await found(asking, 1, "Crooked Spoons")
    request = Request(
        id=1,
        at=asking.now,
        who=2,
        name="Ben",
        server_id=SERVER,
        fields={"squad": "Crooked Spoons", "name": "Ben", "section": "7-A"},
    )
    first = await perform(asking.store, ACTIONS[ActionKey.SQUAD_FOUND], request)
    await asking.yes("squad.leave", "Yes, leave", 1)
    assert await perform(asking.store, ACTIONS[ActionKey.SQUAD_FOUND], request) == first
