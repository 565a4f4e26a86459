"""The season's page: three sentences, standings with why, ways in, moments to jump to, and everything people saw."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from datetime import datetime
from html import escape
from importlib.resources import files as package_files
from itertools import groupby
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from deploy.rehearsal.page.carried_data import carried_files, packed, season_data
from deploy.rehearsal.page.season_record import Card, Figure, Person, Season
from deploy.rehearsal.page.standings_table import standings_table

WITHOUT_SCRIPT = (
    "header h2:has(+ .cards), .cards, .unfold, .all-bars, .book { display: none !important; } "
    ".standings .later { display: table-row !important; }"
)
"""How the page looks where no script runs: all of the standings, and nothing that would do nothing."""
LONGEST_TITLE = 60
"""Letters of what a moment is called."""

_MARKS = str.maketrans("", "", "*`")
_TO_WHOM = re.compile(r"^(\W*)@[^:]*: ")
_SENTENCE = re.compile(r"[.!?](?=\s|$)")


def write_page(path: Path, season: Season) -> None:
    """Write the page to `path`."""
    path.write_text(render_page(season), encoding="utf-8")


def render_page(season: Season) -> str:
    """Return the whole page; it needs nothing from anywhere else."""
    data = season_data(season)
    people = {name: number for number, name in enumerate(data["people"])}
    files = carried_files(season)
    style = "\n".join(_part(name) for name in ("shared_look.css", "season_page.css"))
    script = "\n".join(_part(name) for name in ("shared_messages.js", "season_page.js"))
    return f"""<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<link rel="icon" href="data:,">
<title>{escape(season.title)}</title>
<style>{style}</style>
<noscript><style>{WITHOUT_SCRIPT}</style></noscript>
</head>
<body>
<a class="skip" href="#where">Skip to what everyone saw</a>
<header class="leaf">
<h1>{escape(season.title)}</h1>
{"".join(f'<p class="lead">{escape(sentence)}</p>' for sentence in season.lead)}
{_cards(season.cards, people)}
{standings_table(season)}
{_picture(season, files)}
{_figures(season.figures)}
</header>
<noscript><p class="leaf">What everyone saw is drawn by a script, which this browser does not run.</p></noscript>
<div class="book" id="book">
<nav aria-label="Moments, rooms and people">
{_moments(season)}
{_index("Rooms", "r", [("", [(name, number, "") for number, name in enumerate(data["rooms"])])])}
{_index("People", "p", _people(season.people, people))}
</nav>
<main class="leaf">
<div class="where">
<h2 id="where" tabindex="-1">What the whole class read</h2>
<p class="row turn"><button type="button" class="button" id="before">Previous</button>
<button type="button" class="button" id="after">Next</button> <a class="button" href="#book" id="top">Top</a></p>
</div>
<p class="tools"><label>Find <input type="search" id="find" autocomplete="off"></label>
<label id="private-too" hidden><input type="checkbox" id="private"> private answers, too</label>
<label><input type="checkbox" id="all"> every change of a message</label>
<span id="which" role="status"></span></p>
<div id="entries"></div>
<p id="nothing" hidden>Nothing here.</p>
</main>
</div>
<script type="application/json" id="files">{_json(files)}</script>
<script type="text/plain" id="data">{packed(data)}</script>
<script>{script}</script>
</body>
</html>
"""


def _part(name: str) -> str:
    return (package_files("deploy.rehearsal.page") / name).read_text(encoding="utf-8")


def _json(data: Any) -> str:
    """Write data so that it can stand inside a script element."""
    return json.dumps(data, ensure_ascii=False).replace("<", "\\u003c")


def _cards(cards: Sequence[Card], people: Mapping[str, int]) -> str:
    items = []
    for card in cards:
        target = f"p{people[card.person]}" if card.person else f"e{card.moment}"
        items.append(f'<li><a href="#{target}"><b class="slab">{escape(card.title)}</b> {escape(card.text)}</a></li>')
    return f'<h2>Begin with somebody</h2><ul class="cards">{"".join(items)}</ul>' if items else ""


def _index(title: str, kind: str, groups: Sequence[tuple[str, Sequence[tuple[str, int, str]]]]) -> str:
    """Return one register of the index: headings, and under each of them links."""
    html = "".join(
        (f"<h4>{escape(group)}</h4>" if group else "")
        + "<ul>"
        + "".join(
            f'<li><a href="#{kind}{number}">{escape(name)}{f" <span class=hint>{escape(more)}</span>" if more else ""}'
            "</a></li>"
            for name, number, more in items
        )
        + "</ul>"
        for group, items in groups
    )
    return f'<details class="register"><summary>{title}</summary>{html}</details>'


def _people(people: Sequence[Person], numbers: Mapping[str, int]) -> list[tuple[str, list[tuple[str, int, str]]]]:
    return [
        (group, [(person.name, numbers[person.name], person.what) for person in those])
        for group, those in groupby(people, key=lambda person: person.group)
    ]


def _moments(season: Season) -> str:
    """Return what was said to everybody, day by day, as places to jump to."""
    zone = ZoneInfo(season.zone)
    days: dict[str, list[tuple[str, int, str]]] = {}
    for number, entry in enumerate(season.entries):
        if entry.room == season.news and entry.kind == "message" and not entry.private_to:
            moment = datetime.fromisoformat(entry.at).astimezone(zone)
            title = _first_words(entry.body)
            if title:
                days.setdefault(f"{moment:%A} {moment.day} {moment:%B}", []).append((title, number, f"{moment:%H:%M}"))
    return _index("Moments", "e", list(days.items())) if days else ""


def _first_words(body: Mapping[str, Any]) -> str:
    """Return what a message says first, without its marks: the sentences that fit, or the beginning of the first."""
    texts = (str(block["text"]) for block in body.get("blocks", []) if "text" in block)
    line = next((line.strip() for text in texts for line in text.splitlines() if line.strip()), "")
    known, instant, _ = _TO_WHOM.sub(r"\1", line.strip(" #>-").translate(_MARKS)).partition("<t:")
    # A sentence with an instant in it would end before what it is about.
    whole = known[: _sentence_end(known)] if instant else known
    short = whole if len(whole) <= LONGEST_TITLE else whole[: _sentence_end(whole[:LONGEST_TITLE])]
    if not short:
        short = known if len(known) <= LONGEST_TITLE else f"{known[:LONGEST_TITLE].rpartition(' ')[0]} …"
    return short.strip(" :")


def _sentence_end(text: str) -> int:
    """Where the last whole sentence of a text ends; 0 where there is none."""
    return max((found.end() for found in _SENTENCE.finditer(text)), default=0)


def _picture(season: Season, files: Mapping[str, str]) -> str:
    if season.picture not in files:
        return ""
    words = "The same standings as stacked bars, as the coach saw them"
    return (
        f'<details class="all-bars"><summary>{words}</summary><figure>'
        f'<img alt="{words}; the numbers stand in the table." data-file="{season.picture}"></figure></details>'
    )


def _figures(figures: Sequence[Figure]) -> str:
    if not figures:
        return ""
    items = "".join(f"<div><dt>{escape(one.meaning)}</dt><dd>{escape(one.value)}</dd></div>" for one in figures)
    return f'<details><summary>Could one rely on it?</summary><dl class="figures">{items}</dl></details>'
