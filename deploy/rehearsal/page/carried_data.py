"""What the page carries along, drawn when it is looked at: entries packed small, and pictures and other files."""

from __future__ import annotations

import base64
import json
import zlib
from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Any

from deploy.rehearsal.page.season_record import Season
from deploy.rehearsal.server.transcript import Entry
from deploy.rehearsal.world.state import File

DIRECT = "direct messages of "
LARGEST_FILE = 256 * 1024
"""Bytes of a text up to which the page carries it along; texts can be packed small."""
LARGEST_OTHER = 24 * 1024
"""The same for a file that is neither a text nor a picture."""
TEXTS = ("text/", "application/json", "application/toml")


def packed(data: Any) -> str:
    """Return data as JSON, deflated, in base64: nothing in it can be taken for markup."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return base64.b64encode(zlib.compress(text.encode(), 9)).decode()


def season_data(season: Season) -> dict[str, Any]:
    """Return the entries with numbers for rooms, people and audiences."""
    people = [person.name for person in season.people]
    people += sorted({name for entry in season.entries for name in (*entry.seen_by, entry.who)} - set(people))
    number_of = {name: number for number, name in enumerate(people)}
    rooms = _rooms(season.entries)
    number_of_room = {place: number for number, place in enumerate(rooms)}
    # Identifiers hang on which of two answers was quicker; the order in which messages are first told of does not.
    message_of = {
        message: number for number, message in enumerate(dict.fromkeys([0, *(e.message for e in season.entries)]))
    }
    audiences = list(dict.fromkeys(entry.seen_by for entry in season.entries))
    audience_of = {audience: number for number, audience in enumerate(audiences)}
    return {
        "zone": season.zone,
        "texts": carried_texts(season),
        "bot": season.bot,
        "people": people,
        "rooms": [_room_name(names[-1]) for names in rooms.values()],
        "news": next((number for number, names in enumerate(rooms.values()) if season.news in names), -1),
        "audiences": [[number_of[name] for name in audience] for audience in audiences],
        "entries": [
            [
                int(datetime.fromisoformat(entry.at).timestamp()),
                number_of_room[_place(entry)],
                audience_of[entry.seen_by],
                number_of[entry.private_to] if entry.private_to else -1,
                entry.kind,
                number_of[entry.who],
                message_of[entry.message],
                entry.body,
            ]
            for entry in season.entries
        ],
    }


def carried_files(season: Season) -> dict[str, str]:
    """Return every picture and small file as a data address by its SHA-256; texts travel with the entries."""
    carried = [(key, file) for key, file in _used(season) if _is_carried(file)]
    for key, file in carried:
        season.pictures.begin(key, file)
    small = [(key, *season.pictures.made(key, file)) for key, file in carried]
    return {key: f"data:{kind};base64,{base64.b64encode(data).decode()}" for key, kind, data in small}


def carried_texts(season: Season) -> dict[str, list[str]]:
    """Return kind and text of every text file by its SHA-256."""
    found = {}
    for key, file in _used(season):
        kind = file.content_type.split(";")[0]
        if kind.startswith(TEXTS) and len(file.data) <= LARGEST_FILE:
            found[key] = [kind, file.data.decode("utf-8", "replace")]
    return found


def _used(season: Season) -> Iterator[tuple[str, File]]:
    """Return the files that somebody saw, in the order in which the entries show them."""
    shown = (block["sha256"] for entry in season.entries for block in entry.body.get("blocks", []) if "file" in block)
    return ((key, season.files[key]) for key in dict.fromkeys(shown) if key in season.files)


def _is_carried(file: File) -> bool:
    if file.content_type.startswith(TEXTS):
        return False
    return file.content_type.startswith("image/") or len(file.data) <= LARGEST_OTHER


def _place(entry: Entry) -> tuple[int, str]:
    return (entry.place, "") if entry.place else (0, entry.room)


def _rooms(entries: Sequence[Entry]) -> dict[tuple[int, str], list[str]]:
    """Return the names of every room, the newest last: a renamed room stands once."""
    found: dict[tuple[int, str], list[str]] = {}
    for entry in entries:
        names = found.setdefault(_place(entry), [])
        if entry.room in names:
            names.remove(entry.room)
        names.append(entry.room)
    return found


def _room_name(room: str) -> str:
    return f"{room.removeprefix(DIRECT)} (private messages)" if room.startswith(DIRECT) else room
