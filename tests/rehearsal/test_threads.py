"""Threads of the class server, as the bot finds them again."""

from deploy.rehearsal.server.class_server import ClassServer
from tests.rehearsal.wire import WireBot


async def test_active_threads_are_listed_until_they_are_archived(
    server: ClassServer, bot: WireBot, sign_up: str
) -> None:
    made = await bot.call("POST", sign_up.replace("/messages", "/threads"), {"name": "squad 1", "type": 12})
    path = f"/guilds/{server.world.guild_id}/threads/active"
    found = await bot.call("GET", path)
    assert [thread["id"] for thread in found.body["threads"]] == [made.body["id"]]
    assert [member["user_id"] for member in found.body["members"]] == [str(server.world.bot.id)]
    await bot.call("PATCH", f"/channels/{made.body['id']}", {"archived": True})
    assert (await bot.call("GET", path)).body["threads"] == []
    assert server.request_log.violations == []


async def test_a_public_thread_is_refused(server: ClassServer, bot: WireBot, sign_up: str) -> None:
    path = sign_up.replace("/messages", "/threads")
    for body in ({"name": "squad 1", "type": 11}, {"name": "squad 1"}):
        refused = await bot.call("POST", path, body)
        assert (refused.status, refused.code) == (400, 50035)
        assert "type" in refused.body["errors"]
    message = (await bot.call("POST", sign_up, {"content": "x"})).body["id"]
    assert (await bot.call("POST", f"{sign_up}/{message}/threads", {"name": "squad 1"})).status == 404
    assert not any(room.is_thread for room in server.world.rooms.values())


async def test_threads_of_another_server_are_not_told(server: ClassServer, bot: WireBot) -> None:
    refused = await bot.call("GET", f"/guilds/{server.world.guild_id + 1}/threads/active")
    assert (refused.status, refused.body["code"]) == (404, 10004)


async def test_a_path_that_is_not_there_is_a_violation(server: ClassServer, bot: WireBot) -> None:
    await bot.call("GET", "/nonsense")
    assert [violation.where for violation in server.request_log.violations] == ["GET /nonsense"]
