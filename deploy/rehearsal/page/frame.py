"""The page around the entries: the result on the first leaf, an index of rooms and people, the timetable of entries."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, tzinfo
from decimal import ROUND_HALF_UP, Decimal
from html import escape
from importlib.resources import files as package_files
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from deploy.rehearsal.page.entries import EntryWriter
from deploy.rehearsal.server.transcript import Entry
from deploy.rehearsal.world.state import File

MOST_DECIMALS = 9
DIRECT = "direct messages of "


@dataclass(frozen=True)
class Figure:
    """One number worth knowing, and what it counts."""

    value: str
    meaning: str


@dataclass(frozen=True)
class Season:
    """Everything the page shows. `standings` rows hold rank, squad, total and events ({name: points})."""

    title: str
    lead: str
    zone: str
    standings: Sequence[Mapping[str, Any]]
    figures: Sequence[Figure]
    entries: Sequence[Entry]
    files: Mapping[str, File]
    bot: str = "Tenbell"
    weights: Mapping[str, str] = field(default_factory=dict)
    """What each event counts, by its name, as shown above its column: "counts 40"."""
    roles: Mapping[str, str] = field(default_factory=dict)
    """What people are, by name: "coach", "judge", "7 Ash" ... shown beside them in the index."""


def write_page(path: Path, season: Season) -> None:
    """Write the page to `path`."""
    path.write_text(render_page(season), encoding="utf-8")


def render_page(season: Season) -> str:
    """Return the whole page; it needs nothing from anywhere else."""
    rooms = list(dict.fromkeys(entry.room for entry in season.entries))
    people = sorted({name for entry in season.entries for name in entry.seen_by})
    audiences = list(dict.fromkeys(entry.seen_by for entry in season.entries))
    numbers = {name: number for number, name in enumerate(people)}
    data = {
        "audiences": [[numbers[name] for name in audience] for audience in audiences],
        "rooms": [_room_name(room) for room in rooms],
        "people": people,
    }
    style = _part("look.css")
    script = _part("turn.js")
    return f"""<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light">
<link rel="icon" href="data:,">
<title>{escape(season.title)}</title>
<style>{style}</style>
</head>
<body>
<a class="skip" href="#book">Skip to what everyone saw</a>
<header class="leaf">
<h1>{escape(season.title)}</h1>
<p class="lead">{escape(season.lead)}</p>
{_standings(season.standings, season.weights)}
{_figures(season.figures)}
</header>
<div class="book" id="book">
<nav aria-label="Rooms and people">
{_index("Rooms", "room", [(_room_name(room), _count_in(season.entries, room)) for room in rooms])}
{_index("People", "person", [(name, season.roles.get(name, "")) for name in people])}
</nav>
<main>
<div class="head">
<h2 id="where" tabindex="-1">Everything, from first to last</h2>
<p id="which" aria-live="polite"></p>
<p class="tools"><label>Find <input type="search" id="find" autocomplete="off"></label>
<label><input type="checkbox" id="all"> every change of a message</label></p>
</div>
<ol id="entries">
{_entries(season, rooms, audiences)}
</ol>
<p id="nothing" hidden>Nothing here.</p>
</main>
</div>
<script type="application/json" id="data">{_json(data)}</script>
<script>{script}</script>
</body>
</html>
"""


def _part(name: str) -> str:
    return (package_files("deploy.rehearsal.page") / name).read_text(encoding="utf-8")


def _json(data: Any) -> str:
    """Write data so that it can stand inside a script element."""
    return json.dumps(data, ensure_ascii=False).replace("<", "\\u003c")


def _room_name(room: str) -> str:
    return f"To {room.removeprefix(DIRECT)} directly" if room.startswith(DIRECT) else room


def _count_in(entries: Iterable[Entry], room: str) -> str:
    return str(sum(entry.room == room for entry in entries))


def _index(title: str, kind: str, names: Sequence[tuple[str, str]]) -> str:
    """Return one register of the index: a tab that opens a list of links."""
    items = "".join(
        f'<li><a href="#{kind}-{number}">{escape(name)} <span class="hint">{escape(more)}</span></a></li>'
        for number, (name, more) in enumerate(names)
    )
    opened = " open" if kind == "room" else ""
    return f'<details class="register" name="index"{opened}><summary>{title}</summary><ul>{items}</ul></details>'


def _standings(standings: Sequence[Mapping[str, Any]], weights: Mapping[str, str]) -> str:
    if not standings:
        return '<p class="lead">No standings: the try-out was not judged to the end.</p>'
    events = list(dict.fromkeys(name for row in standings for name in row.get("events") or {}))
    head = "".join(
        f'<th scope=col>{escape(name)}<br><span class="hint">{escape(weights.get(name, ""))}</span></th>'
        for name in events
    )
    weighed = "; ".join(f"{name} {weights[name]}" for name in events if name in weights)
    note = f'<p class="hint weighed">{escape(weighed)}</p>' if weighed else ""
    decimals = _decimals([row.get("total") for row in standings])
    rows = "".join(_standing(row, events, decimals) for row in standings)
    return f"""<table class="standings"><caption>Standings, points out of 100</caption>
<thead><tr><th scope=col>Place</th><th scope=col>Squad</th>{head}<th scope=col>Total</th></tr></thead>
<tbody>{rows}</tbody></table>{note}"""


def _standing(row: Mapping[str, Any], events: Sequence[str], decimals: int) -> str:
    values = row.get("events") or {}
    cells = "".join(f'<td data-event="{escape(name)}">{_points(values.get(name))}</td>' for name in events)
    rank = row.get("rank")
    first = ' class="first"' if rank == 1 else ""
    return (
        f"<tr{first}><td>{'–' if rank is None else escape(str(rank))}</td>"
        f"<th scope=row>{escape(str(row['squad']))}</th>{cells}"
        f'<td class="total">{_points(row.get("total"), decimals)}</td></tr>'
    )


def _points(value: Any, decimals: int = 1) -> str:
    """Write points rounded half up; a missing value is a dash, never a zero."""
    if value is None or value == "":
        return "–"
    return str(Decimal(str(value)).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP))


def _decimals(totals: Iterable[Any]) -> int:
    """Return how many decimals it takes until no two different totals look the same; one is the least."""
    known = {Decimal(str(total)) for total in totals if total not in (None, "")}
    for decimals in range(1, MOST_DECIMALS):
        if len({_points(total, decimals) for total in known}) == len(known):
            return decimals
    return MOST_DECIMALS


def _figures(figures: Sequence[Figure]) -> str:
    items = "".join(f"<div><dd>{escape(one.value)}</dd><dt>{escape(one.meaning)}</dt></div>" for one in figures)
    return f'<dl class="figures">{items}</dl>'


def _entries(season: Season, rooms: Sequence[str], audiences: Sequence[tuple[str, ...]]) -> str:
    zone = ZoneInfo(season.zone)
    writer = EntryWriter(zone, season.bot, season.files)
    room_numbers = {room: number for number, room in enumerate(rooms)}
    audience_numbers = {audience: number for number, audience in enumerate(audiences)}
    passing = _passing(season.entries, zone)
    html: list[str] = []
    day = ""
    for number, entry in enumerate(season.entries):
        moment = datetime.fromisoformat(entry.at).astimezone(zone)
        today = f"{moment:%A} {moment.day} {moment:%B %Y}"
        if today != day:
            day = today
            html.append(f'<li class="day"><h3>{today}</h3></li>')
        classes = " ".join(["entry", _look(entry), *(["passing"] if number in passing else [])])
        html.append(
            f'<li class="{classes}" data-r="{room_numbers[entry.room]}" data-a="{audience_numbers[entry.seen_by]}">'
            f'<time datetime="{moment.isoformat()}">{moment:%H:%M}</time>'
            f'<div class="what"><p class="place">{escape(_place(entry))}</p>{writer.body(entry)}</div></li>'
        )
    return "\n".join(html)


def _passing(entries: Sequence[Entry], zone: tzinfo) -> set[int]:
    """Return the changes of public messages that were changed again the same day: steps nobody needs to follow."""
    later: set[tuple[int, str]] = set()
    passing: set[int] = set()
    for number in range(len(entries) - 1, -1, -1):
        entry = entries[number]
        if entry.kind != "edit" or entry.private_to:
            continue
        key = (entry.message, datetime.fromisoformat(entry.at).astimezone(zone).date().isoformat())
        if key in later:
            passing.add(number)
        later.add(key)
    return passing


def _look(entry: Entry) -> str:
    if entry.kind in ("press", "choice", "command", "typing", "form sent"):
        return "did"
    if entry.kind == "failure":
        return "failed"
    return "slip" if entry.private_to else "open"


def _place(entry: Entry) -> str:
    """Say where an entry stands and who saw it."""
    if entry.room.startswith(DIRECT):
        return f"directly, only {entry.private_to}"
    return f"{entry.room}, only {entry.private_to}" if entry.private_to else entry.room
