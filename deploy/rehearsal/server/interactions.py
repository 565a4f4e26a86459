"""The life of interactions: one first answer within three seconds, follow-ups for fifteen minutes."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable
from datetime import timedelta
from typing import Any

from deploy.rehearsal.limits.command_limits import check_choices
from deploy.rehearsal.limits.field_checks import FieldChecks, flags_of
from deploy.rehearsal.limits.form_limits import check_form
from deploy.rehearsal.limits.message_limits import check_callback_flags, check_message
from deploy.rehearsal.server.gateway_sessions import Gateway
from deploy.rehearsal.server.machine_time import MachineTime
from deploy.rehearsal.server.message_publisher import Origin, Publisher
from deploy.rehearsal.server.transcript import Transcript
from deploy.rehearsal.wire.forms import open_form
from deploy.rehearsal.wire.interaction_events import AUTOCOMPLETE, COMMAND, COMPONENT, FORM_SENT, Events, Interaction
from deploy.rehearsal.wire.rendering import Names
from deploy.rehearsal.wire.request_bodies import Body, Upload
from deploy.rehearsal.world.api_errors import Json, Refused
from deploy.rehearsal.world.components import numbered
from deploy.rehearsal.world.state import EPHEMERAL, LOADING, Message, Person, Room, World

FIRST_ANSWER_S = 3.0
"""Seconds for the first answer, from the sending of the event, by `MachineTime`."""
TOKEN_LIFE = timedelta(minutes=15)
"""Virtual time for everything after the first answer."""
MESSAGE, DEFER, DEFER_UPDATE, UPDATE, SUGGESTIONS, OPEN_FORM = 4, 5, 6, 7, 8, 9
ALLOWED = {
    COMMAND: (MESSAGE, DEFER, OPEN_FORM),
    COMPONENT: (MESSAGE, DEFER, DEFER_UPDATE, UPDATE, OPEN_FORM),
    FORM_SENT: (MESSAGE, DEFER),
    AUTOCOMPLETE: (SUGGESTIONS,),
}
ON_ACK = Callable[[Interaction, float], None]


class Interactions:
    """Opens, sends and answers interactions."""

    def __init__(
        self,
        world: World,
        gateway: Gateway,
        events: Events,
        publisher: Publisher,
        transcript: Transcript,
        machine: MachineTime,
    ) -> None:
        self._world = world
        self._gateway = gateway
        self._events = events
        self._publisher = publisher
        self._transcript = transcript
        self._machine = machine
        self._by_token: dict[str, Interaction] = {}
        self.on_ack: ON_ACK = lambda _interaction, _milliseconds: None
        self.events = events

    def open(self, kind: int, person: Person, room: Room, data: Json, message: Message | None = None) -> Interaction:
        """Make an interaction that has not been sent yet."""
        number = self._world.snowflakes.next()
        token = hashlib.sha256(f"token|{self._world.guild_id}|{number}".encode()).hexdigest()
        interaction = Interaction(number, token, kind, person, room, self._world.now, data, message)
        self._by_token[token] = interaction
        return interaction

    @property
    def custom_ids(self) -> list[str]:
        """The custom ids of all buttons, selects and forms that anybody has used, in order."""
        return [str(one.data["custom_id"]) for one in self._by_token.values() if "custom_id" in one.data]

    def send(self, interaction: Interaction, *, times: int = 1) -> Json:
        """Put the event on the gateway, `times` over; the three seconds begin now. Returns the payload."""
        payload = self._events.create(interaction)
        interaction.sent = time.monotonic()
        interaction.answer_until = self._machine.now() + FIRST_ANSWER_S
        for _ in range(times):
            self._gateway.emit("INTERACTION_CREATE", payload)
        return payload

    def answer(self, interaction_id: int, token: str, body: Body) -> Interaction:
        """Take the first answer; raises `Refused` for a late, second, or malformed one."""
        interaction = self._by_token.get(token)
        if interaction is None or interaction.id != interaction_id or interaction.sent is None:
            raise Refused(10062)
        waited = time.monotonic() - interaction.sent
        if interaction.response is not None:
            raise Refused(40060)
        if interaction.abandoned:
            raise Refused(10062)
        if waited > FIRST_ANSWER_S and self._machine.now() > interaction.answer_until:
            raise Refused(10062)
        kind = body.json.get("type")
        self._check_kind(interaction, kind)
        data = body.json.get("data") or {}
        try:
            self._carry_out(interaction, int(kind or 0), data, body.uploads)
        except Refused as refused:
            nested = refused.errors if refused.errors is None or "data" in refused.errors else {"data": refused.errors}
            raise Refused(refused.code, errors=nested, message=refused.message) from None
        interaction.response = kind
        interaction.ack_ms = waited * 1000
        self.on_ack(interaction, interaction.ack_ms)
        interaction.answered.set()
        if kind not in (DEFER, DEFER_UPDATE):
            interaction.resolved.set()
        return interaction

    def callback_shape(self, interaction: Interaction) -> Json:
        """What the first answer has made, as the platform sends it to whoever asks for it."""
        shape: Json = {"id": str(interaction.id), "type": interaction.kind}
        if interaction.original is not None:
            shape["response_message_id"] = str(interaction.original.id)
            shape["response_message_loading"] = bool(interaction.original.flags & LOADING)
            shape["response_message_ephemeral"] = interaction.original.only_for is not None
        answer: Json = {"interaction": shape}
        if interaction.response in (MESSAGE, UPDATE) and interaction.original is not None:
            answer["resource"] = {"type": interaction.response, "message": self._publisher.wire(interaction.original)}
        return answer

    def abandon(self) -> None:
        """Let nobody wait any longer for the answer of a bot that is dead: what is open can never be answered."""
        for interaction in self._by_token.values():
            if interaction.sent is not None and not interaction.resolved.is_set():
                interaction.abandoned = interaction.response is None
                interaction.answered.set()
                interaction.resolved.set()

    def find(self, application_id: int, token: str) -> Interaction:
        """Return the answered interaction behind a token; raises `Refused` for an unknown, unanswered or dead one."""
        interaction = self._by_token.get(token)
        if interaction is None or application_id != self._world.application_id or interaction.response is None:
            raise Refused(10015)
        if self._world.now - interaction.created >= TOKEN_LIFE:
            raise Refused(50027)
        return interaction

    def message(self, interaction: Interaction, name: str) -> Message:
        """Return the original answer or a follow-up of this token; raises `Refused` (10008)."""
        if name == "@original":
            found = interaction.original
        else:
            known = [interaction.original, *interaction.follow_ups, interaction.message]
            found = next((message for message in known if message is not None and str(message.id) == name), None)
        if found is None or found.deleted:
            raise Refused(10008)
        return found

    def edit(self, interaction: Interaction, message: Message, body: Body) -> Message:
        """Change the original answer or a follow-up."""
        check_message(body.json, body.uploads, old=message, flags=message.flags)
        self._publisher.edit(message, body.json, body.uploads)
        interaction.resolved.set()
        return message

    def delete(self, interaction: Interaction, message: Message) -> None:
        """Remove the original answer or a follow-up."""
        self._publisher.delete(message)
        interaction.resolved.set()

    def follow_up(self, interaction: Interaction, body: Body) -> Message:
        """Post a further message; the first one after a deferral fills the loading message instead."""
        flags = flags_of(body.json)
        check_callback_flags(flags)
        original = interaction.original
        if original is not None and original.flags & LOADING:
            return self.edit(interaction, original, body)
        check_message(body.json, body.uploads, flags=flags)
        message = self._post(interaction, body.json, body.uploads, flags & EPHEMERAL)
        interaction.follow_ups.append(message)
        interaction.resolved.set()
        return message

    def _check_kind(self, interaction: Interaction, kind: Any) -> None:
        allowed = ALLOWED[interaction.kind]
        if interaction.kind == FORM_SENT and interaction.message is not None:
            allowed = (*allowed, DEFER_UPDATE, UPDATE)
        if kind not in allowed:
            checks = FieldChecks()
            checks.choice(("type",), f"Value must be one of {{{', '.join(map(str, sorted(allowed)))}}}.")
            checks.raise_problems()

    def _carry_out(self, interaction: Interaction, kind: int, data: Json, uploads: list[Upload]) -> None:
        flags = flags_of(data)
        if kind == MESSAGE:
            check_callback_flags(flags)
            check_message(data, uploads, flags=flags)
            interaction.original = self._post(interaction, data, uploads, flags & EPHEMERAL)
        elif kind == DEFER:
            check_callback_flags(flags, allowed=EPHEMERAL)
            interaction.original = self._post(interaction, {}, [], (flags & EPHEMERAL) | LOADING)
        elif kind == DEFER_UPDATE:
            interaction.original = interaction.message
        elif kind == UPDATE:
            source = interaction.message
            if source is None or source.deleted:
                raise Refused(10008)
            check_message(data, uploads, old=source, flags=source.flags)
            interaction.original = self._publisher.edit(source, data, uploads)
        elif kind == SUGGESTIONS:
            self._suggest(interaction, data)
        else:
            check_form(data)
            self._open_form(interaction, data)

    def _post(self, interaction: Interaction, data: Json, uploads: list[Upload], flags: int) -> Message:
        only_for = interaction.person.id if flags & EPHEMERAL else None
        kind = 20 if interaction.kind == COMMAND else 0
        metadata = interaction.metadata()
        origin = Origin(metadata, self._world.application_id, only_for, kind)
        body = {key: value for key, value in data.items() if key != "nonce"}
        return self._publisher.create(interaction.room, self._world.bot, body, uploads, flags=flags, origin=origin)

    def _suggest(self, interaction: Interaction, data: Json) -> None:
        checks = FieldChecks()
        choices = checks.items(data, "choices", ("data",), most=25, required=True)
        check_choices(checks, choices, ("data", "choices"), _focused_kind(interaction.data))
        checks.raise_problems()
        interaction.suggestions = choices

    def _open_form(self, interaction: Interaction, data: Json) -> None:
        source = interaction.message
        interaction.form = open_form(
            data,
            numbered(data["components"]),
            Names(self._world),
            person_id=interaction.person.id,
            room_id=interaction.room.id,
            message_id=source.id if source else None,
            opened_by=interaction.metadata(),
        )
        self._transcript.form(interaction.person, interaction.room, interaction.form)


def _focused_kind(data: Json) -> int | None:
    """Return the type of the option a person is typing in, however deep it is nested."""
    for option in data.get("options") or []:
        if option.get("focused"):
            return int(option["type"])
        nested = _focused_kind(option)
        if nested is not None:
            return nested
    return None
