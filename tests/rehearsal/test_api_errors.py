"""Errors by their codes."""

from __future__ import annotations

from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import WireBot


async def test_what_is_not_there_has_its_own_code(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    guild = server.world.guild_id
    assert (await bot.call("GET", "/channels/1")).code == 10003
    assert (await bot.call("GET", f"{sign_up}/1")).code == 10008
    assert (await bot.call("GET", f"/guilds/{guild}/members/1")).code == 10013
    assert (await bot.call("GET", "/guilds/1/roles")).code == 10004
    assert (await bot.call("GET", f"/guilds/{guild}/members")).code == 50001, "that needs a privileged intent"
    assert (await bot.call("GET", "/nonsense")).status == 404
    server.world.person("Ben Marrow").in_guild = False
    assert (await bot.call("GET", f"/guilds/{guild}/members/{server.world.person('Ben Marrow').id}")).code == 10007


async def test_without_the_right_token_or_name_nothing_is_served(server: ClassServer, bot: WireBot) -> None:
    assert (await bot.call("GET", "/users/@me", headers={"Authorization": "Bot wrong"})).status == 401
    assert (await bot.call("GET", "/users/@me", headers={"User-Agent": "curl"})).code == 40333
