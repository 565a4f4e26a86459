"""Opening a room: a fresh class, small enough that a day passes in a moment, or one that was kept in a folder."""

from __future__ import annotations

from pathlib import Path

from deploy.rehearsal.season.members_and_channels import people_the_server
from deploy.rehearsal.season.season_settings import script
from deploy.rehearsal.tryroom.kept_state import load, restore
from deploy.rehearsal.tryroom.made_up_class import VISITOR, opens_at, people_of, small_class
from deploy.rehearsal.tryroom.room import TryRoom


def open_room(folder: Path, seed: int, plan: bytes | None) -> TryRoom:
    """Make a fresh room; raises `ValueError` for a plan that cannot be played."""
    played = small_class(script(seed, plan))
    began = opens_at(played)
    server, cast = people_of(played, began)
    people_the_server(server, cast)
    server.world.add_person(VISITOR)
    folder.mkdir(parents=True, exist_ok=True)
    return TryRoom(folder, seed, plan, server, played, cast, began)


def reopen_room(folder: Path) -> TryRoom:
    """Take up a room that was kept; raises `Unreadable`."""
    kept = load(folder)
    seed, text = int(kept.notes["seed"]), kept.notes["plan"]
    plan = None if text is None else str(text).encode()
    played = small_class(script(seed, plan))
    server, cast = people_of(played, kept.start)
    restore(server, kept)
    room = TryRoom(folder, seed, plan, server, played, cast, kept.start)
    room.others.done = set(kept.notes["done"])
    room.read = {
        int(who): {int(place): int(last) for place, last in seen.items()} for who, seen in kept.notes["read"].items()
    }
    room.way = kept.notes["way"]
    room.drafts = kept.notes.get("drafts", {})
    return room
