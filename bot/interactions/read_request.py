"""From the chat library's interaction to our request."""

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

import discord

from bot.actions.core.arguments import LARGEST
from bot.rules.core.picked_server_members import LONGEST_NAME, name_taken
from bot.rules.office.server_channels import NEEDED
from bot.words.core.plain_text import cut
from storage.records.request import Person, Request, Room

BROKEN = (AttributeError, KeyError, LookupError, TypeError, ValueError)
"""What broken data raise, wherever they are looked into."""


TOKEN = re.compile(r"[!-~]+", re.ASCII)


class Unreadable(Exception):
    """An interaction came with data that are none: it was broken on the way, or forged."""


@contextmanager
def readable() -> Iterator[None]:
    """What broken data raise becomes `Unreadable`."""
    try:
        yield
    except BROKEN as broken:
        raise Unreadable from broken


def is_address(number: int, token: object) -> bool:
    """Whether the number and the token of an interaction are such that an answer can be sent to them."""
    return 0 < number <= LARGEST and isinstance(token, str) and TOKEN.fullmatch(token) is not None


def read_request(
    interaction: discord.Interaction, args: tuple[str, ...], values: tuple[str, ...], fields: dict[str, str]
) -> Request:
    """The request an interaction makes; the person's power over the server is the platform's own computation.

    Raises:
        Unreadable: its data are broken.
    """
    with readable():
        return _read(interaction, args, values, fields)


def _read(
    interaction: discord.Interaction, args: tuple[str, ...], values: tuple[str, ...], fields: dict[str, str]
) -> Request:
    in_server = interaction.guild_id is not None
    data: Mapping[str, Any] = interaction.data or {}
    resolved: Mapping[str, Any] = data.get("resolved") or {}
    return Request(
        id=interaction.id,
        at=interaction.created_at,
        who=interaction.user.id,
        name=cut(interaction.user.display_name, LONGEST_NAME),
        server_id=interaction.guild_id,
        application=interaction.application_id,
        room_id=interaction.channel_id,
        message_id=interaction.message.id if interaction.message else None,
        manages_server=in_server and interaction.permissions.manage_guild,
        args=args,
        values=values,
        fields=fields,
        people=picked_people(resolved),
        rooms=tuple(_room(interaction, int(room_id), room) for room_id, room in resolved.get("channels", {}).items()),
    )


def picked_people(resolved: Mapping[str, Any]) -> tuple[Person, ...]:
    """The people behind the ids that were picked, under the names that are taken."""
    members = resolved.get("members", {})
    return tuple(
        Person(
            id=int(user_id),
            name=cut(_name(members.get(user_id) or {}, user), LONGEST_NAME),
            program=bool(user.get("bot")),
        )
        for user_id, user in resolved.get("users", {}).items()
    )


def _name(member: Mapping[str, Any], user: Mapping[str, Any]) -> str:
    return name_taken(member.get("nick"), user.get("global_name"), user["username"])


def _room(interaction: discord.Interaction, room_id: int, sent: Mapping[str, Any]) -> Room:
    """A picked room; what the platform sends tells the person's power there, so the bot's own is worked out here."""
    name, guild = str(sent.get("name") or ""), interaction.guild
    room = guild.get_channel(room_id) if guild else None
    if guild is None or room is None:
        return Room(id=room_id, name=name, missing=NEEDED)
    mine, everyones = room.permissions_for(guild.me), room.permissions_for(guild.default_role)
    missing = tuple(one for one in NEEDED if not getattr(mine, one))
    return Room(id=room_id, name=name, missing=missing, seen_by_all=everyones.view_channel)


def _inputs(parts: list[Mapping[str, Any]]) -> Iterator[Mapping[str, Any]]:
    for part in parts:
        if "component" in part:
            yield part["component"]
        elif "components" in part:
            yield from _inputs(part["components"])
        elif "custom_id" in part:
            yield part


def form_fields(data: Mapping[str, Any]) -> dict[str, str]:
    """The values of a submitted form by field key; several chosen values are joined by line breaks.

    Raises:
        Unreadable: they are broken.
    """
    fields = {}
    with readable():
        for part in _inputs(data.get("components", [])):
            several = part.get("values")
            value = part.get("value") if several is None else "\n".join(map(str, several))
            if value is not None:
                fields[str(part["custom_id"])] = str(value)
    return fields


def chosen_values(data: Mapping[str, Any]) -> tuple[str, ...]:
    """What was chosen in a list.

    Raises:
        Unreadable: it is broken.
    """
    with readable():
        return tuple(map(str, data.get("values", ())))


def has_uploads(data: Mapping[str, Any] | None) -> bool:
    """Whether a form or command brings files, which take longer than the platform waits for an answer."""
    with readable():
        return bool(((data or {}).get("resolved") or {}).get("attachments"))


def attached(
    interaction: discord.Interaction, files: Mapping[str, discord.Attachment]
) -> dict[str, discord.Attachment]:
    """The files of a command, and those of a form by the key of their field; none is fetched yet."""
    with readable():
        return _attached(interaction, files)


def _attached(
    interaction: discord.Interaction, files: Mapping[str, discord.Attachment]
) -> dict[str, discord.Attachment]:
    found = dict(files)
    if not all(isinstance(file, discord.Attachment) for file in found.values()):
        raise TypeError("not a file")
    data: Mapping[str, Any] = interaction.data or {}
    sent = (data.get("resolved") or {}).get("attachments") or {}
    for part in _inputs(data.get("components", [])):
        for number, file_id in enumerate(part.get("values") or ()):
            if file_id in sent:
                key = part["custom_id"] if number == 0 else f"{part['custom_id']}.{number + 1}"
                found[key] = discord.Attachment(data=sent[file_id], state=interaction._state)
    return found
