"""The season's page of a room, written at any time: the same leaves as after a rehearsal, as far as it has come."""

from __future__ import annotations

import tomllib
from contextlib import suppress
from pathlib import Path
from typing import Any

from deploy.rehearsal.cast.people import COACH
from deploy.rehearsal.cast.results import read_standings
from deploy.rehearsal.cast.stage import OFFICE
from deploy.rehearsal.page import Figure, Season, write_page
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.season.output_page import lead
from deploy.rehearsal.tryroom.room import TryRoom

PAGE = "index.html"


def write_season_page(room: TryRoom) -> Path:
    """Write the page into the room's folder and return its path."""
    standings = _standings(room)
    title = "A season in the try-it room"
    if room.plan is not None:
        with suppress(tomllib.TOMLDecodeError):
            title = f"{tomllib.loads(room.plan.decode()).get('name', title)}: in the try-it room"
    page = room.folder / PAGE
    write_page(
        page,
        Season(
            title=title,
            lead=lead(standings),
            zone=room.script.zone,
            standings=standings,
            figures=[Figure(str(len(room.cast.students)), "students"), Figure(str(len(room.cast.judges)), "judges")],
            entries=room.server.transcript.entries,
            files=room.server.transcript.pictures,
            roles={one.name: room.what(one) for one in room.server.world.people.values() if not one.bot},
        ),
    )
    return page


def _standings(room: TryRoom) -> list[dict[str, Any]]:
    """The newest standings that the coach has on the phone as a table; nothing before the first."""
    for shown in reversed(Phone(room.server, COACH).see(OFFICE)):
        if any(file.name.endswith(".csv") for file in shown.files):
            with suppress(KeyError, StopIteration):
                return read_standings(room.stage, shown)
    return []
