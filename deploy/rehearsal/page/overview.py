"""The season's page: three sentences, standings with why, ways in, moments to jump to, and everything people saw."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from decimal import ROUND_HALF_UP, Decimal
from html import escape
from importlib.resources import files as package_files
from itertools import groupby
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from deploy.rehearsal.page.carried_data import carried_files, packed, season_data
from deploy.rehearsal.page.season_record import Card, Figure, Person, Season

MOST_DECIMALS = 9
FOLDED_FROM = 4
"""From this place on the standings are folded on a phone."""
WITHOUT_SCRIPT = (
    "header h2:has(+ .cards), .cards, .unfold, .all-bars, .book { display: none !important; } "
    ".standings .later { display: table-row !important; }"
)
"""How the page looks where no script runs: all of the standings, and nothing that would do nothing."""
LONGEST_TITLE = 60
"""Letters of what a moment is called."""
NEXT_TO_NOTHING = Decimal("0.05")

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
    style = "\n".join(_part(name) for name in ("shared_look.css", "season.css"))
    script = "\n".join(_part(name) for name in ("messages.js", "season.js"))
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
{_standings(season)}
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


def _standings(season: Season) -> str:
    rows = season.standings
    if not rows:
        return '<p class="hint">No standings: the coach has not seen any so far.</p>'
    events = list(dict.fromkeys(name for row in rows for name in row.get("events") or {}))
    head = "".join(
        f'<th scope=col class="event">{escape(name)}<br><span class="hint">{_counts(season.weights.get(name))}'
        "</span></th>"
        for name in events
    )
    decimals = _decimals([row.get("total") for row in rows])
    html = "".join(
        _standing(number, row, next_to(rows, number), events, season.weights, decimals)
        for number, row in enumerate(rows)
    )
    more = (
        f'<p class="unfold"><button type="button" class="button" id="unfold">Show all {len(rows)} squads</button></p>'
        if len(rows) >= FOLDED_FROM
        else ""
    )
    return f"""<h2>Standings</h2><table class="standings"><caption class="hint">Points out of 100</caption>
<thead><tr><th scope=col>Place</th><th scope=col>Squad</th>{head}<th scope=col>Total</th>
<th scope=col class="why">Why, against the next</th></tr></thead>
<tbody>{html}</tbody></table>{more}"""


def _counts(weight: float | None) -> str:
    return "" if weight is None else f"counts {100 * weight:.3g} %"


def next_to(rows: Sequence[Mapping[str, Any]], number: int) -> Mapping[str, Any] | None:
    """Return the row after this one that has a total."""
    return next((row for row in rows[number + 1 :] if row.get("total")), None)


def why(row: Mapping[str, Any], other: Mapping[str, Any] | None, weights: Mapping[str, float]) -> str:
    """Say where a squad made more points of the total than another: "+0.8 in Bunting, level in Sock run"."""
    if other is None or not row.get("total"):
        return ""
    parts, level = [], []
    for name, points in (row.get("events") or {}).items():
        theirs = (other.get("events") or {}).get(name)
        if not points or not theirs or name not in weights:
            continue
        more = (Decimal(str(points)) - Decimal(str(theirs))) * Decimal(str(weights[name]))
        if abs(more) < NEXT_TO_NOTHING:
            level.append(name)
        else:
            parts.append((abs(more), f"{'+' if more > 0 else '−'}{rounded_points(abs(more))} in {name}"))
    said = [text for _, text in sorted(parts, key=lambda part: -part[0])]
    return ", ".join(said + ([f"level in {' and '.join(level)}"] if level else []))


def _standing(
    number: int,
    row: Mapping[str, Any],
    other: Mapping[str, Any] | None,
    events: Sequence[str],
    weights: Mapping[str, float],
    decimals: int,
) -> str:
    values = row.get("events") or {}
    cells = "".join(f'<td class="event">{rounded_points(values.get(name))}</td>' for name in events)
    rank = row.get("rank")
    look = " ".join(word for word, is_so in (("first", rank == 1), ("later", number >= FOLDED_FROM - 1)) if is_so)
    return (
        f'<tr class="{look}"><td>{"–" if rank is None else escape(str(rank))}</td>'
        f"<th scope=row>{escape(str(row['squad']))}</th>{cells}"
        f'<td class="total">{rounded_points(row.get("total"), decimals)}</td>'
        f'<td class="why">{escape(why(row, other, weights))}</td></tr>'
    )


def rounded_points(value: Any, decimals: int = 1) -> str:
    """Write points rounded half up; a missing value is a dash, never a zero."""
    if value is None or value == "":
        return "–"
    return str(Decimal(str(value)).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP))


def _decimals(totals: Iterable[Any]) -> int:
    """Return how many decimals it takes until no two different totals look the same; one is the least."""
    known = {Decimal(str(total)) for total in totals if total not in (None, "")}
    for decimals in range(1, MOST_DECIMALS):
        if len({rounded_points(total, decimals) for total in known}) == len(known):
            return decimals
    return MOST_DECIMALS


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
