"""The standings of the season's page: who is where, and why; on a phone the first few, until all are unfolded."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal
from html import escape
from typing import Any

from deploy.rehearsal.page.season_record import Season

MOST_DECIMALS = 9
FOLDED_FROM = 4
"""From this place on the standings are folded on a phone."""
NEXT_TO_NOTHING = Decimal("0.05")
"""Of so few points nobody is said to be ahead in an event."""


def standings_table(season: Season) -> str:
    """Return the table: place, points by event, total, and why a squad stands before the next."""
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
        _row(number, row, next_to(rows, number), events, season.weights, decimals) for number, row in enumerate(rows)
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


def _row(
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
