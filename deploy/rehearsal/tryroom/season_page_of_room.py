"""The season's page of a room, written at any time: the same leaves as after a rehearsal, as far as it has come."""

from __future__ import annotations

import tomllib
from contextlib import suppress
from functools import lru_cache
from pathlib import Path
from typing import Any

from deploy.rehearsal.cast.people import COACH
from deploy.rehearsal.cast.preview_and_announcement import read_standings
from deploy.rehearsal.cast.stage import OFFICE
from deploy.rehearsal.page import write_page
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.season.output_page import PAGE, compose
from deploy.rehearsal.season.page_people_and_cards import Company, squads_of
from deploy.rehearsal.tryroom.room import TryRoom


def write_season_page(room: TryRoom) -> Path:
    """Write the page into the room's folder and return its path."""
    plan = {"zone": room.script.zone, **posted_plan(room)}
    company = Company(room.cast.students, squads_of(room.server.world), room.cast.judges)
    title = f"{plan.get('name', 'A try-out')}: in the try-it room"
    page = room.folder / PAGE
    write_page(page, compose(title, plan, room.server.transcript, company, _standings(room)))
    return page


def posted_plan(room: TryRoom) -> dict[str, Any]:
    """The plan as the bot gave it to somebody as a file, the newest; nothing before that."""
    for file in reversed(room.server.world.files.values()):
        if file.name.endswith(".toml"):
            with suppress(tomllib.TOMLDecodeError, UnicodeDecodeError):
                return _read(file.data)
    return {}


@lru_cache(maxsize=4)
def _read(data: bytes) -> dict[str, Any]:
    return tomllib.loads(data.decode())


def _standings(room: TryRoom) -> list[dict[str, Any]]:
    """The newest standings that the coach has on the phone as a table; nothing before the first."""
    for shown in Phone(room.server, COACH).newest_first(OFFICE):
        if any(file.name.endswith(".csv") for file in shown.files):
            with suppress(KeyError, StopIteration):
                return read_standings(room.stage, shown)
    return []
