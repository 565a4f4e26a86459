"""A person's phone: what can be seen on it, and what can be done with it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from deploy.rehearsal.phones.form_answers import filled
from deploy.rehearsal.phones.select_values import chosen_values
from deploy.rehearsal.phones.slash_commands import OfferedCommand, SlashCommands
from deploy.rehearsal.phones.user_actions import Act, CastMistake, Outcome
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.wire.forms import Form
from deploy.rehearsal.wire.interaction_events import COMPONENT, FORM_SENT, Interaction
from deploy.rehearsal.wire.rendering import Button, Select, Shown, show
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.components import BUTTON
from deploy.rehearsal.world.permission_bits import SEND_MESSAGES, SEND_MESSAGES_IN_THREADS
from deploy.rehearsal.world.permissions import can_see, permissions_in
from deploy.rehearsal.world.state import DIRECT, DIRECT_MESSAGES, File, Message, Person, Room

PIN_NOTICE = 6
REPLY_WAIT_S = 1.0
Label = str | re.Pattern[str]
"""A label as read on the screen, or a pattern for labels with a changing number in them."""


class Phone:
    """How a person of the cast acts: only through what was shown to this person."""

    def __init__(self, server: ClassServer, person: Person | str) -> None:
        """Take the phone of a person in hand, given as such or by name; raises `KeyError` for a name nobody has."""
        self._server = server
        self.person = server.world.person(person) if isinstance(person, str) else person
        self._slash = SlashCommands(server, self.person)

    @property
    def rooms(self) -> list[str]:
        """The names of all rooms this person has on the phone now, archived threads left out."""
        return [self._name(room) for room in self.places]

    @property
    def places(self) -> list[Room]:
        """All rooms this person has on the phone now, archived threads left out."""
        world = self._server.world
        return [room for room in world.rooms.values() if self._has(room) and not room.archived(world.now)]

    def see(self, room: Room | str) -> list[Shown]:
        """Return the messages of a room as this person sees them now, oldest first.

        `room` is a channel or thread, or its name; "direct messages" is the conversation with the bot. Raises
        `CastMistake` for a room this person cannot see.
        """
        return [self.shown(message) for message in self.messages(room)]

    def newest_first(self, room: Room | str) -> Iterator[Shown]:
        """Yield the messages of a room as `see` returns them, each read only when it is asked for."""
        return map(self.shown, reversed(self.messages(room)))

    def messages(self, room: Room | str) -> list[Message]:
        """Return the messages of a room that this person can see, oldest first; raises `CastMistake` as `see` does."""
        return self._messages(self._room(room))

    def shown(self, message: Message) -> Shown:
        """Return a message of this person's as it is read now."""
        return show(self._server.world, message, self.person.id)

    def pinned(self, room: Room | str) -> list[Shown]:
        """Return the pinned messages of a room, oldest first."""
        return [shown for shown in self.see(room) if shown.pinned]

    def look(self, shown: Shown) -> Shown | None:
        """Look at a message again: as it is now, or nothing if it is gone for this person."""
        place = self._server.world.rooms.get(shown.room_id)
        found = [m for m in self._messages(place) if m.id == shown.message_id] if place and self._has(place) else []
        return show(self._server.world, found[0], self.person.id) if found else None

    def with_button(self, room: Room | str, label: Label) -> Shown:
        """Return the newest message of a room with a button of this label that can be pressed."""
        for shown in self.newest_first(room):
            if any(_matches(label, button.label) and not button.disabled for button in shown.buttons):
                return shown
        raise CastMistake(f"{self.person.name} sees no button {label!r} in {room!r}")

    def press(self, shown: Shown, label: Label | Button, *, as_server_has_it: bool = False) -> Act:
        """Press a button of a message, which may be an old rendering of it; the button itself or its label.

        The event then carries the message as the phone shows it; with `as_server_has_it` as it is now.
        """
        button = label if isinstance(label, Button) else self._button(shown, label)
        if button.disabled or button.url:
            raise CastMistake(f"{button.label!r} cannot be pressed: it is {'a link' if button.url else 'disabled'}")
        data = {"custom_id": button.custom_id, "component_type": BUTTON, "id": button.component_id}
        body = {"label": button.label, "on": shown.title}
        return self._component_act(shown, data, "press", body, stale=not as_server_has_it)

    def choose(self, shown: Shown, select: Label | int, picks: Any) -> Act:
        """Choose in a select, given by its placeholder or its number from the top.

        `picks` is one or a list of: options or their labels, people or rooms (or their names), as the select asks for.
        """
        menu = self._select(shown, select)
        if menu.disabled:
            raise CastMistake(f"the select {menu.placeholder!r} is disabled")
        chosen = chosen_values(self._server.world, menu.kind, menu.options, picks)
        chosen.check_count(menu.placeholder, menu.least, menu.most)
        data: Json = {
            "custom_id": menu.custom_id,
            "component_type": menu.component_type,
            "id": menu.component_id,
            "values": chosen.values,
        }
        resolved = self._server.interactions.events.resolved(chosen.resolved, self._server.world.rooms[shown.room_id])
        if resolved:
            data["resolved"] = resolved
        return self._component_act(
            shown, data, "choice", {"select": menu.placeholder, "chosen": chosen.names, "on": shown.title}
        )

    def fill(self, form: Form, values: Mapping[str, Any]) -> Act:
        """Send a form with values by visible label; fields not named keep what they were opened with.

        Texts are strings, radio groups one label, checkbox groups and selects one or more labels, a lone checkbox is
        true or false, people may be given by name, files as `(name, bytes)`. Raises `CastMistake` for what the phone
        would not let a person send.
        """
        if form.person_id != self.person.id:
            raise CastMistake(f"the form {form.title!r} was not opened for {self.person.name}")
        room = self._server.world.rooms[form.room_id]
        sheet = filled(self._server.world, form, values, room)

        def begin() -> Interaction:
            message = room.messages.get(form.message_id or 0)
            resolved = self._server.interactions.events.resolved(sheet.resolved, room)
            data: Json = {"custom_id": form.custom_id, "components": sheet.components, "resolved": resolved}
            self._server.transcript.act(self.person, room, "form sent", {"title": form.title, "values": sheet.read})
            interaction = self._server.interactions.open(FORM_SENT, self.person, room, data, message)
            interaction.opened_by = form.opened_by
            return interaction

        return Act(self._server, begin)

    def command(
        self, line: str, options: Mapping[str, Any] | None = None, *, room: Room | str, overridden: bool = False
    ) -> Act:
        """Run a slash command such as "/squad start" in a room, with option values by name.

        It must be registered, allowed here and for this person, and its options must fit; else `CastMistake`. With
        `overridden`, as if an administrator had opened the command to this person.
        """
        return self._slash.run(line, options or {}, self._room(room), overridden=overridden)

    def commands(self, room: Room | str) -> list[str]:
        """Return the slash commands this person is offered in a room, as "/squad start"."""
        return self._slash.offered(self._room(room))

    def command_list(self, room: Room | str) -> list[OfferedCommand]:
        """Return the slash commands this person is offered in a room, with what can be typed after each."""
        return self._slash.described(self._room(room))

    def suggest(
        self, line: str, option: str, typed: str, others: Mapping[str, Any] | None = None, *, room: Room | str
    ) -> Act:
        """Type into an option with autocomplete and see what is suggested."""
        return self._slash.suggest(line, option, typed, others or {}, self._room(room))

    async def say(self, room: Room | str, text: str) -> Outcome:
        """Write an ordinary message in a room."""
        place = self._room(room)
        speak = SEND_MESSAGES_IN_THREADS if place.is_thread else SEND_MESSAGES
        if place.kind != DIRECT and not permissions_in(self._server.world, self.person, place) & speak:
            raise CastMistake(f"{self.person.name} may not write in {place.name!r}")
        before = set(place.messages)
        self._server.transcript.begin(self.person, place)
        own = self._server.publisher.create(place, self.person, {"content": text}, [])
        await self._server.clock.settle_if_shared()
        if place.kind == DIRECT:
            # The bot may have said that all is done before it read what was typed.
            await self._reply_wait(place, len(before) + 1)
            await self._server.clock.settle_if_shared()
        new = [m for m in self._messages(place) if m.id not in before and m.id != own.id]
        shown = [show(self._server.world, message, self.person.id) for message in new]
        return Outcome("message" if shown else "nothing", shown[0] if shown else None, more=tuple(shown[1:]))

    async def type_dm(self, text: str) -> Outcome:
        """Write to the bot directly; what it answers there comes back."""
        return await self.say(self._server.world.direct_room(self.person), text)

    def download(self, file: File) -> bytes:
        """Return the bytes of a file this person can see; raises `CastMistake` for one that is nowhere to be seen."""
        rooms = [room for room in self._server.world.rooms.values() if self._has(room)]
        if any(file in message.files for room in rooms for message in self._messages(room)):
            return file.data
        raise CastMistake(f"{self.person.name} sees no file {file.name!r}")

    def dismiss(self, shown: Shown) -> None:
        """Wipe a private answer from the screen."""
        if not shown.private:
            raise CastMistake("only a private answer can be dismissed")
        self.person.wiped.add(shown.message_id)

    def reload(self) -> None:
        """Restart the chat app: private answers are gone afterwards."""
        for room in self._server.world.rooms.values():
            self.person.wiped.update(message.id for message in room.messages.values() if message.only_for)

    def _component_act(self, shown: Shown, data: Json, kind: str, body: Json, *, stale: bool = True) -> Act:
        place = self._server.world.rooms.get(shown.room_id)
        if place is None:
            raise CastMistake("the room of this message is gone")
        room = self._room(place)
        message = room.messages[shown.message_id]

        def begin() -> Interaction:
            self._server.transcript.act(self.person, room, kind, body)
            interaction = self._server.interactions.open(COMPONENT, self.person, room, data, message)
            if stale:
                interaction.shown_components = list(shown.components)
            return interaction

        return Act(self._server, begin)

    def _button(self, shown: Shown, label: Label) -> Button:
        found = [button for button in shown.buttons if _matches(label, button.label)]
        if len(found) != 1:
            labels = [button.label for button in shown.buttons]
            raise CastMistake(f"{len(found)} buttons {label!r}; there are {labels} under {shown.title!r}")
        return found[0]

    def _select(self, shown: Shown, select: Label | int) -> Select:
        if isinstance(select, int):
            found: Sequence[Select] = shown.selects[select : select + 1]
        else:
            found = [menu for menu in shown.selects if _matches(select, menu.placeholder)]
        if len(found) != 1:
            there = [menu.placeholder for menu in shown.selects]
            raise CastMistake(f"{len(found)} selects {select!r}; there are {there} under {shown.text[:200]!r}")
        return found[0]

    def _messages(self, room: Room) -> list[Message]:
        return [
            message
            for message in room.messages.values()
            if not message.deleted
            and message.kind != PIN_NOTICE
            and message.only_for in (None, self.person.id)
            and message.id not in self.person.wiped
        ]

    def _room(self, room: Room | str) -> Room:
        """Find a room this person can see, by itself or by name; the newest of several of one name."""
        world = self._server.world
        if isinstance(room, Room):
            found = [room] if self._has(room) else []
        elif room == DIRECT_MESSAGES:
            found = [r for r in world.rooms.values() if r.kind == DIRECT and self.person.id in r.members]
        else:
            found = [r for r in world.rooms.values() if r.name == room and r.kind != DIRECT and self._has(r)]
        if not found:
            name = room if isinstance(room, str) else room.name
            raise CastMistake(f"{self.person.name} sees no room {name!r}; there are {self.rooms}")
        return found[-1]

    def _has(self, room: Room) -> bool:
        return can_see(self._server.world, self.person, room)

    def _name(self, room: Room) -> str:
        return DIRECT_MESSAGES if room.kind == DIRECT else room.name

    async def _reply_wait(self, place: Room, more_than: int) -> None:
        waited = 0.0
        while len(place.messages) <= more_than and waited < REPLY_WAIT_S:
            await self._server.machine.sleep(0.02)
            waited += 0.02


def _matches(wanted: Label, label: str) -> bool:
    return label == wanted if isinstance(wanted, str) else wanted.fullmatch(label) is not None
