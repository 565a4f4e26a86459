"""Set-up: which channels can be chosen, and what I must be allowed to do there."""

import pytest

from storage.records.request import Room
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import ROOMS


async def test_what_i_may_not_do_in_a_channel_is_named_in_plain_words(begin: Begin) -> None:
    asking = await begin("drafting")
    room = Room(id=99, missing=("send_messages", "pin_messages", "create_private_threads"))
    text = (await asking.message("setup.room:signup", values=("99",), rooms=(room,))).text
    assert "allow me to send messages and pin messages. Then pick it again" in text
    assert (await asking.tryout()).rooms["signup"] == ROOMS["signup"]


@pytest.mark.parametrize(
    ("kind", "room", "said"),
    [
        ("office", Room(id=99, seen_by_all=True), "Everyone on this server can read <#99>"),
        ("office", Room(id=51), "must be a channel of its own"),
        ("news", Room(id=53), "must be a channel of its own"),
    ],
)
async def test_what_is_for_the_coach_stays_out_of_the_class(begin: Begin, kind: str, room: Room, said: str) -> None:
    asking = await begin("drafting")
    text = (await asking.message(f"setup.room:{kind}", values=(str(room.id),), rooms=(room,))).text
    assert said in text
    assert (await asking.tryout()).rooms == ROOMS


async def test_another_sign_up_channel_takes_the_living_messages_along(begin: Begin) -> None:
    asking = await begin("drafting")
    await asking.confirm("signup.open")
    async with asking.store.write() as db:
        await db.run("UPDATE live_message SET stale = 0")
    await asking.ask("setup.room:signup", values=("99",), rooms=(Room(id=99),))
    async with asking.store.read() as db:
        assert await db.value("SELECT min(stale) FROM live_message") > 0


async def test_the_invite_link_asks_for_exactly_what_is_needed(begin: Begin) -> None:
    asking = await begin("drafting")
    text = (await asking.message("setup.invite", application=12345)).text
    assert "client_id=12345&permissions=2252143411186688&scope=bot+applications.commands" in text
    bits = {10, 11, 14, 15, 16, 36, 38, 51}
    assert sum(1 << bit for bit in bits) == 2252143411186688


async def test_once_all_channels_are_chosen_the_filled_button_opens_sign_up(begin: Begin) -> None:
    asking = await begin("drafting")
    assert button(await asking.message("setup.panel"), "Open sign-up").style == "main"
    async with asking.store.write() as db:
        await db.run("UPDATE tryout SET rooms_json = json_remove(rooms_json, '$.news')")
    shown = await asking.message("setup.panel")
    assert "Open sign-up" not in [one.label for row in shown.rows if isinstance(row, tuple) for one in row]
