"""Slash commands as a person is offered them, and as they travel."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from deploy.rehearsal.limits.command_limits import (
    ATTACHMENT,
    BOOLEAN,
    CHANNEL,
    CHAT,
    GROUP,
    INTEGER,
    NUMBER,
    PERSON,
    ROLE,
    STRING,
    SUB_COMMAND,
)
from deploy.rehearsal.phones.select_values import uploaded
from deploy.rehearsal.phones.user_actions import Act, CastMistake
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.wire.interaction_events import AUTOCOMPLETE, COMMAND, Interaction, Resolved
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.permission_bits import ADMINISTRATOR, USE_APPLICATION_COMMANDS
from deploy.rehearsal.world.permissions import permissions_in
from deploy.rehearsal.world.state import DIRECT, Person, Role, Room


@dataclass(frozen=True)
class _Found:
    """A registered command and the way of names from it down to what is run."""

    command: Json
    path: tuple[Json, ...]

    @property
    def options(self) -> list[Json]:
        runs = self.path[-1] if self.path else self.command
        return [option for option in runs.get("options") or [] if option["type"] not in (SUB_COMMAND, GROUP)]


@dataclass(frozen=True)
class OfferedCommand:
    """A command as a person is offered it: what is typed, what it does, and what may be typed after it."""

    line: str
    description: str
    options: tuple[Json, ...]


class SlashCommands:
    """The command line of one person's phone."""

    def __init__(self, server: ClassServer, person: Person) -> None:
        self._server = server
        self._person = person

    def offered(self, room: Room) -> list[str]:
        """Return everything this person can run in `room`, as "/squad start"."""
        return [command.line for command in self.described(room)]

    def described(self, room: Room) -> list[OfferedCommand]:
        """Return everything this person can run in `room`, in the order of what is typed."""
        found: list[OfferedCommand] = []
        for command in self._commands(room):
            if command["type"] != CHAT or not self._may_use(command, room):
                continue
            for names in _lines(command):
                way = _Found(command, _path(command, list(names[1:]), " ".join(names)))
                runs = way.path[-1] if way.path else command
                found.append(OfferedCommand(f"/{' '.join(names)}", runs.get("description") or "", tuple(way.options)))
        return sorted(found, key=lambda command: command.line)

    def run(self, line: str, values: Mapping[str, Any], room: Room, *, overridden: bool) -> Act:
        """Prepare the running of a command; raises `CastMistake` for what the phone would not send."""
        found = self._find(line, room, overridden=overridden)
        unknown = [name for name in values if name not in {option["name"] for option in found.options}]
        if unknown:
            raise CastMistake(f"{line} has no option {unknown}; it has {[o['name'] for o in found.options]}")
        missing = [o["name"] for o in found.options if o.get("required") and o["name"] not in values]
        if missing:
            raise CastMistake(f"{line} needs {missing}")

        def begin() -> Interaction:
            resolved = Resolved()
            given = [o for o in found.options if o["name"] in values]
            options = [self._option(option, values[option["name"]], room, resolved) for option in given]
            read = {option["name"]: _read(values[option["name"]]) for option in given}
            self._server.transcript.act(self._person, room, "command", {"line": line, "options": read})
            return self._open(COMMAND, found, options, room, resolved)

        return Act(self._server, begin)

    def suggest(self, line: str, option: str, typed: str, others: Mapping[str, Any], room: Room) -> Act:
        """Prepare a request for suggestions while typing into an option."""
        found = self._find(line, room, overridden=False)
        focused = next((o for o in found.options if o["name"] == option), None)
        if focused is None or not focused.get("autocomplete"):
            raise CastMistake(f"{line} suggests nothing for {option!r}")

        def begin() -> Interaction:
            resolved = Resolved()
            given = [o for o in found.options if o["name"] in others]
            options = [self._option(o, others[o["name"]], room, resolved) for o in given]
            options.append({"type": focused["type"], "name": option, "value": typed, "focused": True})
            self._server.transcript.act(self._person, room, "typing", {"line": line, "option": option, "text": typed})
            return self._open(AUTOCOMPLETE, found, options, room, resolved)

        return Act(self._server, begin)

    def _open(self, kind: int, found: _Found, options: list[Json], room: Room, resolved: Resolved) -> Interaction:
        for step in reversed(found.path):
            options = [{"type": step["type"], "name": step["name"], "options": options}]
        data: Json = {"id": found.command["id"], "name": found.command["name"], "type": CHAT, "options": options}
        if "guild_id" in found.command:
            data["guild_id"] = found.command["guild_id"]
        things = self._server.interactions.events.resolved(resolved, room)
        if things:
            data["resolved"] = things
        return self._server.interactions.open(kind, self._person, room, data)

    def _commands(self, room: Room) -> Iterator[Json]:
        world = self._server.world
        if room.kind != DIRECT:
            yield from world.commands.get(world.guild_id, [])
        context = 1 if room.kind == DIRECT else 0
        for command in world.commands.get(None, []):
            contexts = command.get("contexts")
            allowed = context in contexts if contexts else context == 0 or command.get("dm_permission", True)
            if allowed:
                yield command

    def _may_use(self, command: Json, room: Room) -> bool:
        """Whether the command's default permissions let this person use it; a default, not a wall."""
        needed = command.get("default_member_permissions")
        if room.kind == DIRECT:
            return True
        have = permissions_in(self._server.world, self._person, room)
        if not have & USE_APPLICATION_COMMANDS or needed is None:
            return bool(have & USE_APPLICATION_COMMANDS)
        bits = int(needed)
        return bool(have & ADMINISTRATOR) or (bits != 0 and have & bits == bits)

    def _find(self, line: str, room: Room, *, overridden: bool) -> _Found:
        if room.archived(self._server.world.now):
            raise CastMistake(f"commands cannot be used in the archived thread {room.name!r}")
        names = line.removeprefix("/").split()
        for command in self._commands(room):
            if command["type"] == CHAT and names and command["name"] == names[0]:
                if not overridden and not self._may_use(command, room):
                    raise CastMistake(f"{self._person.name} is not offered {line}")
                return _Found(command, _path(command, names[1:], line))
        raise CastMistake(f"{line} is not registered here; offered are {self.offered(room)}")

    def _option(self, option: Json, value: Any, room: Room, resolved: Resolved) -> Json:
        return {"type": option["type"], "name": option["name"], "value": self._wire(option, value, room, resolved)}

    def _wire(self, option: Json, value: Any, room: Room, resolved: Resolved) -> Any:
        kind, world = option["type"], self._server.world
        if kind == PERSON:
            person = value if isinstance(value, Person) else world.person(value)
            resolved.people.append(person)
            return str(person.id)
        if kind == CHANNEL:
            channel = value if isinstance(value, Room) else world.room(value)
            if option.get("channel_types") and channel.kind not in option["channel_types"]:
                raise CastMistake(f"{option['name']!r} does not take the room {channel.name!r}")
            resolved.rooms.append(channel)
            return str(channel.id)
        if kind == ROLE:
            role = value if isinstance(value, Role) else next(r for r in world.roles.values() if r.name == value)
            resolved.roles.append(role)
            return str(role.id)
        if kind == ATTACHMENT:
            file = uploaded(world, room, *value)
            resolved.files.append(file)
            return str(file.id)
        return _plain_value(option, value)


def _plain_value(option: Json, value: Any) -> Any:
    """Check a text, number or truth value as the phone does, and translate a choice's name to its value."""
    kind, name = option["type"], option["name"]
    choices = option.get("choices") or []
    if choices:
        found = [choice["value"] for choice in choices if choice["name"] == value]
        if not found:
            raise CastMistake(f"{name!r} takes one of {[choice['name'] for choice in choices]}, not {value!r}")
        return found[0]
    types: dict[int, tuple[type, ...]] = {STRING: (str,), INTEGER: (int,), BOOLEAN: (bool,), NUMBER: (int, float)}
    if not isinstance(value, types.get(kind, (object,))) or (isinstance(value, bool) and kind != BOOLEAN):
        raise CastMistake(f"{name!r} does not take {value!r}")
    size = len(value) if isinstance(value, str) else value
    least, most = (option.get(f"{end}_{'length' if kind == STRING else 'value'}") for end in ("min", "max"))
    if (least is not None and size < least) or (most is not None and size > most):
        raise CastMistake(f"{name!r} takes {least} to {most}, not {size}")
    return value


def _path(command: Json, names: list[str], line: str) -> tuple[Json, ...]:
    path: list[Json] = []
    here = command
    for name in names:
        nested = [o for o in here.get("options") or [] if o["type"] in (SUB_COMMAND, GROUP) and o["name"] == name]
        if not nested:
            raise CastMistake(f"{line} is not registered")
        path.append(nested[0])
        here = nested[0]
    if any(option["type"] in (SUB_COMMAND, GROUP) for option in here.get("options") or []):
        raise CastMistake(f"{line} is not complete")
    return tuple(path)


def _lines(command: Json) -> Iterator[tuple[str, ...]]:
    nested = [option for option in command.get("options") or [] if option["type"] in (SUB_COMMAND, GROUP)]
    if not nested:
        yield (command["name"],)
    for option in nested:
        for rest in _lines(option):
            yield (command["name"], *rest)


def _read(value: Any) -> Any:
    if isinstance(value, Person | Role | Room):
        return value.name
    if isinstance(value, tuple):
        return value[0]
    return value
