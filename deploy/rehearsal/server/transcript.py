"""What each person saw, in an order that does not depend on which of two answers was quicker by a millisecond."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from deploy.rehearsal.wire.forms import Form
from deploy.rehearsal.wire.rendering import Button, Select, Shown, is_pinged, show
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.permissions import can_see
from deploy.rehearsal.world.state import DIRECT, File, Message, Person, Room, World
from deploy.rehearsal.world.virtual_time import wire


@dataclass(frozen=True)
class Entry:
    """One thing that happened on one or more phones; `body` is what could be read, as plain JSON."""

    at: str
    room: str
    seen_by: tuple[str, ...]
    private_to: str
    kind: str
    who: str
    body: Json
    message: int = 0
    """The message this is about, for grouping its changes; not part of what is told."""
    place: int = 0
    """The room's number, by which a renamed room is the same; not part of what is told."""

    def as_json(self) -> Json:
        """Return the entry as a JSON object."""
        return {
            "at": self.at,
            "room": self.room,
            "seen_by": list(self.seen_by),
            "private_to": self.private_to,
            "kind": self.kind,
            "who": self.who,
            "body": self.body,
        }


@dataclass
class _Lane:
    """Entries whose order is a matter of cause: one person's private exchange, or the life of one that stays."""

    rank: tuple[Any, ...]
    entries: list[Entry] = field(default_factory=list)


class Transcript:
    """Collects entries; what happens between two seals is put in order lane by lane.

    A lane that begins with an act of the cast stands where the act was begun; the others follow by room, then by the
    age of their message. Within a lane the order is that of arrival.
    """

    def __init__(self, world: World) -> None:
        self._world = world
        self._sealed: list[Entry] = []
        self._lanes: dict[tuple[str, str, int], _Lane] = {}
        self._acts = 0
        self._audiences: dict[tuple[str, ...], tuple[str, ...]] = {}
        self.pictures: dict[str, File] = {}
        self.on_file: Callable[[str, File], None] = lambda _key, _file: None
        """Called with every file that somebody sees, and the name it goes by, when it is seen first."""

    @property
    def entries(self) -> list[Entry]:
        """All entries so far, in their final order."""
        self.seal()
        return self._sealed

    def since(self, number: int) -> list[Entry]:
        """The entries from a number on, with those that are not in their final order yet at the end."""
        waiting = sorted(self._lanes.values(), key=lambda lane: lane.rank)
        return self._sealed[number:] + [entry for lane in waiting for entry in lane.entries]

    def seal(self) -> None:
        """Put what was collected since the last seal in its final order."""
        for lane in sorted(self._lanes.values(), key=lambda lane: lane.rank):
            self._sealed += lane.entries
        self._lanes.clear()

    def go_on_from(self, entries: list[Entry], files: list[File]) -> None:
        """Take up a transcript that was kept, with the files its entries name."""
        self._sealed = list(entries)
        for file in files:
            self.file_key(file)

    def act(self, person: Person, room: Room, kind: str, body: Json) -> None:
        """Record what a person did: a press, a choice, a form sent, a command, a typed text."""
        self.begin(person, room)
        self._add(room, person, kind, person.name, body)

    def begin(self, person: Person, room: Room) -> None:
        """Let the person's lane in this room stand here, where an act begins."""
        self._acts += 1
        key = (room.name, person.name, -1)
        self._lanes.setdefault(key, _Lane((0, self._acts)))

    def message(self, message: Message, kind: str) -> None:
        """Record a message as it appears or changes; `kind` says which ("message", "edit", "pin", "deleted")."""
        room = self._world.rooms[message.room_id]
        author = self._world.people[message.author_id]
        person = self._world.people[message.only_for] if message.only_for else self._other_side(room)
        shown = show(self._world, message, person.id if person else 0)
        if person is not None:
            kind = f"private {kind}" if message.only_for else kind
            # What stands in a direct conversation is brought up to date while a press is being answered there.
            age = -1 if message.only_for else message.order
            self._add(room, person, kind, author.name, self.body(shown), age=age, message=message.id)
            return
        body = self.body(shown)
        called = message.mentions or message.mention_roles or message.mention_everyone
        rings = kind == "message" and called
        rung = [other for other in self._world.people.values() if is_pinged(message, other)] if rings else []
        pinged = [other.name for other in self._viewers(room, rung)] if rung else []
        if pinged:
            body["pings"] = pinged
        self._add(room, None, kind, author.name, body, age=message.order, message=message.id)

    def private(self, person: Person, room: Room, kind: str, body: Json) -> None:
        """Record something only this person saw: a form, suggestions, a failed press."""
        self._add(room, person, kind, self._world.bot.name, body)

    def form(self, person: Person, room: Room, form: Form) -> None:
        """Record a form that opened."""
        fields = [
            {
                "label": item.label,
                "description": item.description,
                "kind": item.kind,
                "required": item.required,
                "value": item.value,
                "options": [{"label": o.label, "description": o.description, "chosen": o.chosen} for o in item.options],
            }
            for item in form.fields
        ]
        body = {"title": form.title, "notes": list(form.notes), "fields": fields}
        self.private(person, room, "form opened", body)

    def body(self, shown: Shown) -> Json:
        """Return what a person can read in a message, as plain JSON; files are named by their SHA-256."""
        body: Json = {"blocks": [self._block(block) for block in shown.blocks]}
        if shown.loading:
            body["loading"] = True
        return body

    def text(self) -> str:
        """Return the whole transcript as JSON lines, the same for the same season, byte for byte."""
        lines = [json.dumps(entry.as_json(), ensure_ascii=False, sort_keys=True) for entry in self.entries]
        return "".join(f"{line}\n" for line in lines)

    def file_key(self, file: File) -> str:
        """Keep the file for the page and return the name it goes by in entries."""
        key = hashlib.sha256(file.data).hexdigest()
        if key not in self.pictures:
            self.pictures[key] = file
            self.on_file(key, file)
        return key

    def _block(self, block: str | Button | Select | File) -> Json:
        if isinstance(block, str):
            return {"text": block}
        if isinstance(block, Button):
            return {"button": block.label, "emoji": block.emoji, "style": block.style, "disabled": block.disabled}
        if isinstance(block, Select):
            options = [{"label": o.label, "description": o.description, "chosen": o.chosen} for o in block.options]
            return {"select": block.placeholder, "kind": block.kind, "options": options, "disabled": block.disabled}
        return {
            "file": block.name,
            "sha256": self.file_key(block),
            "type": block.content_type,
            "description": block.description or "",
        }

    def _add(
        self,
        room: Room,
        person: Person | None,
        kind: str,
        who: str,
        body: Json,
        *,
        age: int = -1,
        message: int = 0,
    ) -> None:
        name = person.name if person else ""
        seen_by = (name,) if person else tuple(sorted(other.name for other in self._viewers(room)))
        seen_by = self._audiences.setdefault(seen_by, seen_by)
        entry = Entry(wire(self._world.now), room.name, seen_by, name, kind, who, body, message, room.id)
        key = (room.name, name, age)
        self._lanes.setdefault(key, _Lane((1, *key))).entries.append(entry)

    def _viewers(self, room: Room, among: Iterable[Person] | None = None) -> list[Person]:
        """Return who can see a room, of some people or of all."""
        people = self._world.people.values() if among is None else among
        return [person for person in people if not person.bot and can_see(self._world, person, room)]

    def _other_side(self, room: Room) -> Person | None:
        """Return the person of a direct conversation; nothing for rooms of the class server."""
        if room.kind != DIRECT:
            return None
        return next(self._world.people[person] for person in room.members if person != self._world.bot.id)
