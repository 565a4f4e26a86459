"""Turning what a person picks, by visible name, into the values that travel on the wire."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.wire.interaction_events import Resolved
from deploy.rehearsal.wire.rendering import Option
from deploy.rehearsal.wire.request_bodies import content_type_of
from deploy.rehearsal.world.state import File, Person, Room, World


@dataclass
class Chosen:
    """Picked values: as they travel, as a person reads them, and the things behind them."""

    values: list[str] = field(default_factory=list)
    names: list[str] = field(default_factory=list)
    resolved: Resolved = field(default_factory=Resolved)

    def check_count(self, label: str, least: int, most: int) -> None:
        """Raise `CastMistake` if the phone would not let this many be picked."""
        if not least <= len(self.values) <= most:
            raise CastMistake(f"{label!r} takes {least} to {most} choices, not {len(self.values)}: {self.names}")


def chosen_values(world: World, kind: str, options: tuple[Option, ...], picks: Any) -> Chosen:
    """Look up one pick or a list of picks in a select, radio group or checkbox group of this kind."""
    wanted = picks if isinstance(picks, list | tuple) else [picks]
    chosen = Chosen()
    for pick in wanted:
        if kind in ("options", "radio", "checkboxes"):
            _pick_option(options, pick, chosen)
        elif isinstance(pick, Room) or kind == "channels":
            room = pick if isinstance(pick, Room) else world.room(pick)
            _note(chosen, room.id, room.name)
            chosen.resolved.rooms.append(room)
        else:
            person = pick if isinstance(pick, Person) else _person(world, pick)
            _note(chosen, person.id, person.name)
            chosen.resolved.people.append(person)
    return chosen


def uploaded(world: World, room: Room, name: str, data: bytes) -> File:
    """Put a file a person uploads with a form or a command on the content server."""
    file = File(world.snowflakes.next(), name, data, content_type_of(name), room.id, world.now, ephemeral=True)
    world.files[file.id] = file
    return file


def _pick_option(options: tuple[Option, ...], pick: Any, chosen: Chosen) -> None:
    found = [option for option in options if pick in (option, option.label)]
    if len(found) != 1:
        raise CastMistake(f"{len(found)} options {pick!r}; there are {[option.label for option in options]}")
    chosen.values.append(found[0].value)
    chosen.names.append(found[0].label)


def _note(chosen: Chosen, number: int, name: str) -> None:
    chosen.values.append(str(number))
    chosen.names.append(name)


def _person(world: World, name: Any) -> Person:
    try:
        return world.person(name)
    except KeyError as missing:
        raise CastMistake(str(missing)) from None
