"""People, rooms and files that were picked, as the chat library hands them over: who they are, what we may do there."""

from typing import Any

import discord
import pytest

from bot.interactions.read_request import picked_people, read_request
from bot.rules.office.server_channels import NEEDED

BOT, COACH, EVERYONE, GUILD = 10, 20, 7, 7
NEWS, OFFICE, ELSEWHERE = 51, 53, 99


def bits(*names: str) -> str:
    """Permissions as the platform writes them."""
    return str(discord.Permissions(**dict.fromkeys(names, True)).value)


def user(number: int, name: str, **more: Any) -> Any:
    return {"id": str(number), "username": name, "discriminator": "0", "avatar": None, **more}


def role(number: int, name: str, permissions: str) -> dict[str, Any]:
    return {
        "id": str(number), "name": name, "permissions": permissions, "position": 0, "color": 0, "hoist": False,
        "managed": False, "mentionable": False, "flags": 0,
        "colors": {"primary_color": 0, "secondary_color": None, "tertiary_color": None},
    }  # fmt: skip


def member(who: Any, *roles: str) -> dict[str, Any]:
    return {"user": who, "roles": list(roles), "joined_at": None, "deaf": False, "mute": False, "flags": 0}


def channel(number: int, name: str, *overwrites: dict[str, Any]) -> dict[str, Any]:
    return {"id": str(number), "type": 0, "name": name, "position": 0, "permission_overwrites": list(overwrites)}


@pytest.fixture
async def client() -> discord.Client:
    """A client that knows one class server: everyone may read, the bot may do what it needs, the office is closed."""
    made = discord.Client(intents=discord.Intents(guilds=True), member_cache_flags=discord.MemberCacheFlags.none())
    state = made._connection
    state.user = discord.ClientUser(state=state, data=user(BOT, "tenbell"))
    hidden: dict[str, Any] = {"id": str(EVERYONE), "type": 0, "allow": "0", "deny": bits("view_channel")}
    let_in = {"id": str(BOT), "type": 1, "allow": bits("view_channel"), "deny": "0"}
    quiet = {"id": str(BOT), "type": 1, "allow": "0", "deny": bits("send_messages", "pin_messages")}
    data: Any = {
        "id": str(GUILD), "name": "Class", "owner_id": str(COACH), "member_count": 2, "emojis": [], "stickers": [],
        "roles": [
            role(EVERYONE, "@everyone", bits("view_channel", "read_message_history")),
            role(11, "Tenbell", bits(*NEEDED)),
        ],
        "channels": [channel(NEWS, "news", quiet), channel(OFFICE, "office", hidden, let_in)],
        "members": [member(user(BOT, "tenbell"), "11")],
        "features": [], "verification_level": 0, "default_message_notifications": 0, "explicit_content_filter": 0,
        "mfa_level": 0, "nsfw_level": 0, "premium_tier": 0, "preferred_locale": "en-US", "system_channel_flags": 0,
        "afk_timeout": 60,
    }  # fmt: skip
    state._add_guild(discord.Guild(data=data, state=state))
    return made


def picked(client: discord.Client, resolved: dict[str, Any], values: list[str]) -> discord.Interaction:
    """The interaction that a choice from a list makes."""
    payload: Any = {
        "id": "1001", "application_id": "10", "type": 3, "token": "token", "version": 1, "guild_id": str(GUILD),
        "member": member(user(COACH, "coach")) | {"permissions": bits("manage_guild")},
        "app_permissions": bits(*NEEDED), "attachment_size_limit": 1, "entitlements": [],
        "channel": {"id": str(OFFICE), "type": 0, "name": "office", "position": 0},
        "data": {"custom_id": "setup.room:news", "component_type": 8, "values": values, "resolved": resolved},
    }  # fmt: skip
    return discord.Interaction(data=payload, state=client._connection)


async def test_what_the_bot_may_do_in_a_picked_room_is_worked_out_from_roles_and_overwrites(
    client: discord.Client,
) -> None:
    rooms = {str(NEWS): {"id": str(NEWS), "name": "news", "type": 0, "permissions": "0"}}
    request = read_request(picked(client, {"channels": rooms}, [str(NEWS)]), (), (str(NEWS),), {})
    (room,) = request.rooms
    assert (room.id, room.name, room.seen_by_all) == (NEWS, "news", True)
    # Who may not send messages may not embed links nor attach files either.
    assert set(room.missing) == {"send_messages", "pin_messages", "embed_links", "attach_files"}
    assert request.manages_server and request.application == BOT


async def test_a_room_that_only_some_can_see_is_known_as_such(client: discord.Client) -> None:
    rooms = {str(OFFICE): {"id": str(OFFICE), "name": "office", "type": 0}}
    (room,) = read_request(picked(client, {"channels": rooms}, [str(OFFICE)]), (), (str(OFFICE),), {}).rooms
    assert (room.seen_by_all, room.missing) == (False, ())


async def test_of_a_room_we_cannot_see_nothing_is_taken_for_granted(client: discord.Client) -> None:
    rooms = {str(ELSEWHERE): {"id": str(ELSEWHERE), "name": "hidden", "type": 0}}
    (room,) = read_request(picked(client, {"channels": rooms}, [str(ELSEWHERE)]), (), (str(ELSEWHERE),), {}).rooms
    assert (room.name, room.missing) == ("hidden", NEEDED)


def test_people_bear_the_name_that_the_class_server_shows_and_programs_are_known() -> None:
    resolved = {
        "users": {
            "1": user(1, "ana_77", global_name="Ana"),
            "2": user(2, "ben", global_name="Benjamin"),
            "3": user(3, "beep", bot=True),
        },
        "members": {"2": {"nick": "Ben R"}, "1": {"nick": None}},
    }
    people = picked_people(resolved)
    assert [(one.id, one.name, one.program) for one in people] == [
        (1, "Ana", False),
        (2, "Ben R", False),
        (3, "beep", True),
    ]
