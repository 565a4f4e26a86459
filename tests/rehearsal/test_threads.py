"""Threads of the class server: who sees them, when they rest, and how the bot finds them again."""

from datetime import timedelta

from deploy.rehearsal.phones.phone import Phone
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


async def test_a_private_thread_is_seen_by_its_members_and_by_who_manages_threads(
    server: ClassServer, bot: WireBot
) -> None:
    news = server.world.room("news").id
    made = await bot.call("POST", f"/channels/{news}/threads", {"name": "Rubber Plums", "type": 12, "invitable": False})
    assert made.status == 201
    thread = made.body["id"]
    ada, ben = Phone(server, "Ada Quill"), Phone(server, "Ben Marrow")
    assert "Rubber Plums" not in ada.rooms
    assert (await bot.call("PUT", f"/channels/{thread}/thread-members/{ada.person.id}")).status == 204
    assert (await bot.call("POST", f"/channels/{thread}/messages", {"content": "hello"})).status == 200
    assert ada.see("Rubber Plums")[0].text == "hello"
    assert "Rubber Plums" not in ben.rooms
    assert "Rubber Plums" in Phone(server, "Ms Holloway").rooms
    assert (await bot.call("DELETE", f"/channels/{thread}/thread-members/{ada.person.id}")).status == 204
    assert "Rubber Plums" not in ada.rooms


async def test_a_thread_rests_after_its_time_and_wakes_on_a_message(server: ClassServer, bot: WireBot) -> None:
    news = server.world.room("news").id
    made = await bot.call(
        "POST", f"/channels/{news}/threads", {"name": "Moles", "type": 12, "auto_archive_duration": 60}
    )
    thread = f"/channels/{made.body['id']}"
    message = (await bot.call("POST", f"{thread}/messages", {"content": "x"})).body["id"]
    await server.clock.step_to(server.clock.now + timedelta(minutes=60))
    ada = server.world.person("Ada Quill").id
    assert (await bot.call("PUT", f"{thread}/thread-members/{ada}")).code == 50083
    assert (await bot.call("PATCH", f"{thread}/messages/{message}", {"content": "y"})).code == 50083
    assert (await bot.call("POST", f"{thread}/messages", {"content": "z"})).status == 200
    assert (await bot.call("PUT", f"{thread}/thread-members/{ada}")).status == 204
    assert (await bot.call("PATCH", thread, {"locked": True})).code == 50013, "locking needs MANAGE_THREADS"
    assert (await bot.call("PATCH", thread, {"archived": True})).body["thread_metadata"]["archived"] is True
    too_long = {"name": "x", "type": 12, "auto_archive_duration": 14400}
    assert (await bot.call("POST", f"/channels/{news}/threads", too_long)).code == 50035
