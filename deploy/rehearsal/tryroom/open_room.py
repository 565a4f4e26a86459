"""Opening a room: a fresh class, small enough that a day passes in a moment, or one that was kept in a folder."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, time, timedelta
from pathlib import Path
from random import Random
from zoneinfo import ZoneInfo

from deploy.rehearsal.cast.people import Cast, invent_cast
from deploy.rehearsal.season.members_and_channels import people_the_server
from deploy.rehearsal.season.season_script import Script, script
from deploy.rehearsal.server.class_server import ClassServer
from deploy.rehearsal.server.platform_faults import FaultInjection
from deploy.rehearsal.tryroom.kept_state import load, restore
from deploy.rehearsal.tryroom.room import VISITOR, TryRoom

SQUADS, JUDGES = 6, 3
FOUND = 7
"""Days before the brief on which the room opens."""
OPENS = time(7, 30)


def open_room(folder: Path, seed: int, plan: bytes | None) -> TryRoom:
    """Make a fresh room; raises `ValueError` for a plan that cannot be played."""
    played = _small(script(seed, plan))
    zone = ZoneInfo(played.zone)
    day = played.brief.date() - timedelta(days=FOUND)
    began = datetime.combine(day, OPENS, zone).astimezone(UTC)
    server, cast = _people(played, began)
    people_the_server(server, cast)
    server.world.add_person(VISITOR)
    folder.mkdir(parents=True, exist_ok=True)
    return TryRoom(folder, seed, plan, server, played, cast, began)


def reopen_room(folder: Path) -> TryRoom:
    """Take up a room that was kept; raises `Unreadable`."""
    kept = load(folder)
    seed, text = int(kept.notes["seed"]), kept.notes["plan"]
    plan = None if text is None else str(text).encode()
    played = _small(script(seed, plan))
    server, cast = _people(played, kept.start)
    restore(server, kept)
    room = TryRoom(folder, seed, plan, server, played, cast, kept.start)
    room.others.done = set(kept.notes["done"])
    room.read = {
        int(who): {int(place): int(last) for place, last in seen.items()} for who, seen in kept.notes["read"].items()
    }
    room.way = kept.notes["way"]
    return room


def _small(whole: Script) -> Script:
    return replace(whole, squads=max(SQUADS, len(whole.sections)), judges=JUDGES)


def _people(played: Script, began: datetime) -> tuple[ClassServer, Cast]:
    cast = invent_cast(
        Random(played.seed), played.sections, played.smallest, played.largest, played.squads, played.judges
    )
    return ClassServer(began, faults=FaultInjection(played.seed, ())), cast
