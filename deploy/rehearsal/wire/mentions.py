"""Which names in a text really ring somebody's phone, by the public rules on allowed mentions."""

from __future__ import annotations

import re
from typing import Any

from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.permission_bits import MENTION_EVERYONE
from deploy.rehearsal.world.permissions import permissions_in
from deploy.rehearsal.world.state import Message, World

EVERYTHING: Json = {"parse": ["users", "roles", "everyone"]}
USERS_ONLY: Json = {"parse": ["users"]}


def resolve_mentions(world: World, message: Message, allowed: Any, *, from_interaction: bool) -> None:
    """Set who `message` mentions; without `allowed` the default differs between channel and interaction messages."""
    rules = allowed if isinstance(allowed, dict) else (USERS_ONLY if from_interaction else EVERYTHING)
    parse = rules.get("parse") or []
    text = message.content
    author, room = world.people[message.author_id], world.rooms[message.room_id]
    may_ping_all = bool(permissions_in(world, author, room) & MENTION_EVERYONE)
    users = _ids(r"<@!?(\d+)>", text, parse, "users", rules)
    roles = _ids(r"<@&(\d+)>", text, parse, "roles", rules)
    message.mentions = [person for person in users if person in world.people]
    message.mention_roles = [
        role for role in roles if role in world.roles and (world.roles[role].mentionable or may_ping_all)
    ]
    called = "@everyone" in text or "@here" in text
    message.mention_everyone = called and "everyone" in parse and may_ping_all


def _ids(pattern: str, text: str, parse: list[str], kind: str, rules: Json) -> list[int]:
    found = list(dict.fromkeys(int(number) for number in re.findall(pattern, text)))
    if kind in parse:
        return found
    named = {int(number) for number in rules.get(kind) or []}
    return [number for number in found if number in named]
