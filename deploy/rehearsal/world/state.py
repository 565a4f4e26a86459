"""The state of the class server: people, roles, rooms, messages, files and the bot's commands."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.permission_bits import BOT_PERMISSIONS, STUDENT_PERMISSIONS
from deploy.rehearsal.world.virtual_time import Snowflakes, Timeline

TEXT, DIRECT, PRIVATE_THREAD = 0, 1, 12
EPHEMERAL, LOADING, COMPONENTS_V2 = 1 << 6, 1 << 7, 1 << 15
DIRECT_MESSAGES = "direct messages"
"""The name under which a person finds the conversation with the bot."""


@dataclass
class Role:
    """A role of the class server; `permissions` is the platform's bit set."""

    id: int
    name: str
    permissions: int
    position: int
    managed: bool = False
    mentionable: bool = False


@dataclass
class Person:
    """Somebody of the class server, or the bot itself."""

    id: int
    name: str
    username: str
    roles: list[int]
    joined: datetime
    bot: bool = False
    dms_open: bool = True
    in_guild: bool = True
    locale: str = "en-GB"
    wiped: set[int] = field(default_factory=set)
    """The private answers this person has wiped from the screen."""


@dataclass
class Overwrite:
    """What one role or person may or may not do in one channel."""

    target: int
    for_person: bool
    allow: int = 0
    deny: int = 0


@dataclass
class File:
    """A file as it lies on the content server."""

    id: int
    name: str
    data: bytes = field(repr=False)
    content_type: str
    room_id: int
    created: datetime
    description: str | None = None
    ephemeral: bool = False


@dataclass
class Message:
    """One message; `only_for` names the one person who sees a private answer, `order` counts within the room."""

    id: int
    room_id: int
    author_id: int
    created: datetime
    kind: int = 0
    content: str = ""
    components: list[Json] = field(default_factory=list)
    files: list[File] = field(default_factory=list)
    flags: int = 0
    edited: datetime | None = None
    pinned: bool = False
    only_for: int | None = None
    nonce: str | int | None = None
    mentions: list[int] = field(default_factory=list)
    mention_roles: list[int] = field(default_factory=list)
    mention_everyone: bool = False
    reply_to: int | None = None
    interaction: Json | None = None
    application_id: int | None = None
    edits_when_old: int = 0
    deleted: bool = False
    order: int = 0


@dataclass(frozen=True)
class Drawn:
    """What the components of a message look like to a person, for as long as it has these and no others."""

    components: list[Json]
    blocks: tuple[Any, ...]


@dataclass
class Room:
    """A text channel, a thread, or a direct conversation with the bot."""

    id: int
    kind: int
    name: str
    created: datetime
    position: int = 0
    parent_id: int | None = None
    owner_id: int | None = None
    overwrites: list[Overwrite] = field(default_factory=list)
    members: dict[int, datetime] = field(default_factory=dict)
    messages: dict[int, Message] = field(default_factory=dict)
    pins: dict[int, datetime] = field(default_factory=dict)
    archive_minutes: int = 1440
    put_away: bool = False
    locked: bool = False
    invitable: bool = True
    slowmode: int = 0
    last_active: datetime | None = None

    @property
    def is_thread(self) -> bool:
        """Whether this is a thread; all of them are private."""
        return self.kind == PRIVATE_THREAD

    def archived(self, now: datetime) -> bool:
        """Whether the thread has been put away, by hand or by resting longer than its archive time."""
        if not self.is_thread:
            return False
        rested = now - (self.last_active or self.created)
        return self.put_away or rested >= timedelta(minutes=self.archive_minutes)


class World:
    """Everything the class server knows, reachable by identifier or by name."""

    def __init__(self, start: datetime, *, name: str = "Quillmere robot club", bot_name: str = "Tenbell") -> None:
        """Found an empty class server at the virtual moment `start`, with the bot as its only member."""
        self.timeline = Timeline(start)
        self.snowflakes = Snowflakes(self.timeline)
        self.name = name
        founded = start - timedelta(days=90)
        self.guild_id = self.snowflakes.next(founded)
        self.application_id = self.snowflakes.next(founded)
        self.roles: dict[int, Role] = {
            self.guild_id: Role(self.guild_id, "@everyone", STUDENT_PERMISSIONS, 0),
        }
        self.people: dict[int, Person] = {}
        self.rooms: dict[int, Room] = {}
        self.files: dict[int, File] = {}
        self.commands: dict[int | None, list[Json]] = {}
        self.drawn: dict[int, Drawn] = {}
        """By message: most are looked at several times before they change."""
        bot_role = Role(self.snowflakes.next(founded), bot_name, BOT_PERMISSIONS, 1, managed=True)
        self.roles[bot_role.id] = bot_role
        self.bot = Person(self.application_id, bot_name, "tenbell", [bot_role.id], founded, bot=True)
        self.people[self.bot.id] = self.bot
        self.owner_id = self.bot.id

    @property
    def now(self) -> datetime:
        """The present virtual moment."""
        return self.timeline.now

    def add_role(self, name: str, permissions: int = 0, *, mentionable: bool = False) -> Role:
        """Create a role above all present ones."""
        role = Role(self.snowflakes.next(), name, permissions, len(self.roles), mentionable=mentionable)
        self.roles[role.id] = role
        return role

    def add_person(self, name: str, *roles: Role, owner: bool = False, locale: str = "en-GB") -> Person:
        """Let somebody join the class server; names must differ, since a cast finds people by name."""
        if any(person.name == name for person in self.people.values()):
            raise ValueError(f"there is already somebody called {name!r}")
        handle = "".join(letter for letter in name.lower() if letter.isalnum())[:28] or "somebody"
        person = Person(self.snowflakes.next(), name, handle, [role.id for role in roles], self.now, locale=locale)
        self.people[person.id] = person
        if owner:
            self.owner_id = person.id
        return person

    def add_channel(self, name: str, *overwrites: Overwrite) -> Room:
        """Create a text channel."""
        room = Room(self.snowflakes.next(), TEXT, name, self.now, position=len(self.rooms), overwrites=list(overwrites))
        self.rooms[room.id] = room
        return room

    def add_thread(self, parent: Room, owner: Person, name: str) -> Room:
        """Create a private thread in `parent` with its owner as the first member."""
        number = self.snowflakes.next()
        room = Room(number, PRIVATE_THREAD, name, self.now, parent_id=parent.id, owner_id=owner.id)
        room.members[owner.id] = self.now
        room.last_active = self.now
        self.rooms[room.id] = room
        return room

    def direct_room(self, person: Person) -> Room:
        """Return the conversation between the bot and `person`, opening it if need be."""
        for room in self.rooms.values():
            if room.kind == DIRECT and person.id in room.members:
                return room
        room = Room(self.snowflakes.next(), DIRECT, f"{DIRECT_MESSAGES} of {person.name}", self.now)
        room.members = {person.id: self.now, self.bot.id: self.now}
        self.rooms[room.id] = room
        return room

    def person(self, name: str) -> Person:
        """Find somebody by name; raises `KeyError`."""
        for person in self.people.values():
            if person.name == name:
                return person
        raise KeyError(f"nobody is called {name!r}")

    def room(self, name: str) -> Room:
        """Find a channel or thread by name; raises `KeyError`."""
        for room in self.rooms.values():
            if room.name == name and room.kind != DIRECT:
                return room
        raise KeyError(f"no room is called {name!r}")

    def message(self, message_id: int) -> Message | None:
        """Find a message that still exists in any room."""
        for room in self.rooms.values():
            message = room.messages.get(message_id)
            if message is not None and not message.deleted:
                return message
        return None
