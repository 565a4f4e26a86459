"""INTERACTION_CREATE events, with every key that clients insist on."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from deploy.rehearsal.wire.forms import Form
from deploy.rehearsal.wire.guild_objects import (
    ATTACHMENT_LIMIT,
    acting_member_shape,
    member_shape,
    partial_room_shape,
    role_shape,
    user_shape,
)
from deploy.rehearsal.wire.message_objects import MessageShapes
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.components import response_shape
from deploy.rehearsal.world.permissions import permissions_in
from deploy.rehearsal.world.state import DIRECT, File, Message, Person, Role, Room, World

PING, COMMAND, COMPONENT, AUTOCOMPLETE, FORM_SENT = 1, 2, 3, 4, 5


@dataclass(eq=False)
class Interaction:
    """One press, choice, command, suggestion request or form, from its sending to the end of its token."""

    id: int
    token: str
    kind: int
    person: Person
    room: Room
    created: datetime
    data: Json
    message: Message | None = None
    shown_components: list[Json] | None = None
    opened_by: Json | None = None
    sent: float | None = None
    answer_until: float = 0.0
    """By `MachineTime`; a first answer that comes later is refused."""
    abandoned: bool = False
    """Whoever could have answered first is dead."""
    response: int | None = None
    ack_ms: float | None = None
    ephemeral: bool = False
    original: Message | None = None
    follow_ups: list[Message] = field(default_factory=list)
    form: Form | None = None
    suggestions: list[Json] = field(default_factory=list)
    answered: asyncio.Event = field(default_factory=asyncio.Event)
    resolved: asyncio.Event = field(default_factory=asyncio.Event)

    def metadata(self) -> Json:
        """Return what a message born of this interaction says about it."""
        shape: Json = {
            "id": str(self.id),
            "type": self.kind,
            "user": user_shape(self.person),
            "authorizing_integration_owners": {},
        }
        if self.kind == COMMAND:
            shape["name"] = self.data.get("name", "")
        elif self.kind == COMPONENT and self.message is not None:
            shape["interacted_message_id"] = str(self.message.id)
        elif self.kind == FORM_SENT:
            shape["triggering_interaction_metadata"] = self.opened_by
        return shape


@dataclass
class Resolved:
    """People, roles, rooms and files an interaction refers to."""

    people: list[Person] = field(default_factory=list)
    roles: list[Role] = field(default_factory=list)
    rooms: list[Room] = field(default_factory=list)
    files: list[File] = field(default_factory=list)

    def add(self, other: Resolved) -> None:
        """Take in what another part of the same interaction refers to."""
        self.people += other.people
        self.roles += other.roles
        self.rooms += other.rooms
        self.files += other.files


class Events:
    """Writes interactions as the gateway delivers them."""

    def __init__(self, world: World, shapes: MessageShapes) -> None:
        self._world = world
        self._shapes = shapes

    def create(self, interaction: Interaction) -> Json:
        """Return the whole payload of INTERACTION_CREATE."""
        world, person, room = self._world, interaction.person, interaction.room
        direct = room.kind == DIRECT
        shape: Json = {
            "id": str(interaction.id),
            "application_id": str(world.application_id),
            "type": interaction.kind,
            "token": interaction.token,
            "version": 1,
            "locale": person.locale,
            "channel_id": str(room.id),
            "channel": partial_room_shape(world, person, room),
            "app_permissions": str(permissions_in(world, world.bot, room)),
            "entitlements": [],
            "entitlement_sku_ids": [],
            "attachment_size_limit": ATTACHMENT_LIMIT,
            "data": interaction.data,
        }
        if direct:
            shape |= {
                "user": user_shape(person),
                "context": 1,
                "authorizing_integration_owners": {"0": "0"},
            }
        else:
            shape |= {
                "guild_id": str(world.guild_id),
                "guild": {"id": str(world.guild_id), "locale": "en-GB", "features": []},
                "guild_locale": "en-GB",
                "member": acting_member_shape(world, person, room),
                "context": 0,
                "authorizing_integration_owners": {"0": str(world.guild_id)},
            }
        if interaction.message is not None:
            shape["message"] = self._message(interaction, interaction.message)
        return shape

    def resolved(self, things: Resolved, room: Room) -> Json:
        """Return the `resolved` part of the data; members come without user, as partial ones do."""
        world = self._world
        parts: dict[str, dict[str, Any]] = {
            "users": {str(person.id): user_shape(person) for person in things.people},
            "members": {
                str(person.id): member_shape(person, with_user=False)
                | {"permissions": str(permissions_in(world, person, room))}
                for person in things.people
                if person.in_guild and room.kind != DIRECT
            },
            "roles": {str(role.id): role_shape(role, world.bot.id) for role in things.roles},
            "channels": {str(other.id): partial_room_shape(world, world.bot, other) for other in things.rooms},
            "attachments": {str(file.id): self._shapes.file(file) for file in things.files},
        }
        return {name: part for name, part in parts.items() if part}

    def _message(self, interaction: Interaction, message: Message) -> Json:
        shape = self._shapes.message(message)
        if interaction.shown_components is not None:
            shape["components"] = response_shape(interaction.shown_components)
        return shape
