"""The folder in which a room is kept: everything of the class server as one JSON file, and each file's bytes once."""

from __future__ import annotations

import hashlib
import json
import os
from dataclasses import dataclass, fields, is_dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.transcript import Entry
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.state import File, Person, Role, Room, World

FOLDERS = "try-"
"""What the folder of a new room is called, before its number."""
STATE, FILES = "room.json", "files"
VERSION = 1
GAP = timedelta(seconds=1)
"""Time goes on by so much over a stop, so that no identifier is given twice."""


class Unreadable(Exception):
    """The folder holds no room that this version can read."""


@dataclass
class KeptState:
    """What is kept: the class server's world, the transcript, and the room's own notes."""

    version: int
    start: datetime
    now: datetime
    owner_id: int
    roles: list[Role]
    people: list[Person]
    rooms: list[Room]
    files: list[File]
    commands: list[tuple[int | None, list[Json]]]
    entries: list[Entry]
    notes: Json


def free_folder() -> Path:
    """A folder for a new room: the first number under which there is none."""
    number = 1
    while Path(f"{FOLDERS}{number}").exists():
        number += 1
    return Path(f"{FOLDERS}{number}")


def holds_season(folder: Path) -> bool:
    """Whether somebody has played in a folder before."""
    return (folder / STATE).exists() or (folder / "tenbell.db").exists()


def save(server: ClassServer, start: datetime, notes: Json, folder: Path) -> None:
    """Write everything; the file is put in place whole or not at all."""
    world = server.world
    kept = KeptState(
        VERSION,
        start,
        world.now,
        world.owner_id,
        list(world.roles.values()),
        list(world.people.values()),
        list(world.rooms.values()),
        list(world.files.values()),
        list(world.commands.items()),
        server.transcript.entries,
        notes,
    )
    (folder / FILES).mkdir(exist_ok=True)
    text = json.dumps(kept, default=lambda value: _plain(value, folder / FILES), ensure_ascii=False)
    fresh = folder / f"{STATE}.new"
    with fresh.open("w", encoding="utf-8") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())
    fresh.replace(folder / STATE)


def load(folder: Path) -> KeptState:
    """Read what `save` wrote; raises `Unreadable`."""

    def restored(table: Json) -> Json | bytes:
        if table.keys() != {"bytes_of"}:
            return table
        name = str(table["bytes_of"])
        if not name.isalnum():
            raise ValueError("not the name of a file")
        return (folder / FILES / name).read_bytes()

    try:
        table = json.loads((folder / STATE).read_text("utf-8"), object_hook=restored)
        if not isinstance(table, dict) or table.get("version") != VERSION:
            raise Unreadable(f"{folder} was kept by another version")
        return TypeAdapter(KeptState).validate_python(table)
    except (OSError, ValueError, ValidationError) as error:
        raise Unreadable(f"{folder} holds no try-it room that can be read: {error}") from error


def restore(server: ClassServer, kept: KeptState) -> None:
    """Fill a class server that was made with the same start; it must not have been started yet."""
    world: World = server.world
    world.timeline.move_to(kept.now + GAP)
    world.roles = {role.id: role for role in kept.roles}
    world.people = {person.id: person for person in kept.people}
    world.bot = world.people[world.bot.id]
    world.owner_id = kept.owner_id
    world.rooms = {room.id: room for room in kept.rooms}
    world.files = {file.id: file for file in kept.files}
    world.commands = dict(kept.commands)
    server.transcript.go_on_from(kept.entries, kept.files)


def _plain(value: Any, folder: Path) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: getattr(value, field.name) for field in fields(value)}
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, set):
        return sorted(value)
    if isinstance(value, bytes):
        name = hashlib.sha256(value).hexdigest()
        if not (folder / name).exists():
            (folder / name).write_bytes(value)
        return {"bytes_of": name}
    raise TypeError(f"{type(value)} cannot be kept")
