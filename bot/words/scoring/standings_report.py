"""The standings as plain text for a terminal, or any place without markup."""

import re
from collections.abc import Sequence

from bot.rules.core.rounding import rounded
from bot.words.core.number_text import exact
from bot.words.scoring.outcome import Outcome
from bot.words.scoring.standings import gap_line, missing_lines, place_lines, tie_lines

_MARKUP = re.compile(r"\*\*|^-# ", re.MULTILINE)
_ESCAPED = re.compile(r"\\([\\*_~`|>#<@\[\]])")


def nothing() -> str:
    """There is no try-out in the database."""
    return "There is no try-out in this database yet."


def standings_report(outcome: Outcome) -> str:
    """The whole table in columns, then what is missing, the ties and who holds the place."""
    events = outcome.plan.events
    head = ["place", "squad", "total", *(f"{event.name} ({exact(event.weight)})" for event in events)]
    rows = [
        [
            str(row.rank),
            outcome.squads[row.squad_id].name,
            outcome.total(row),
            *("excused" if one.contribution is None else rounded(one.contribution, 1) for one in row.events),
        ]
        for row in outcome.standings.rows
    ]
    blocks = [outcome.plan.name, columns([head, *rows]) if rows else "No squad can be ranked yet."]
    rest = (place_lines(outcome), gap_line(outcome), missing_lines(outcome), tie_lines(outcome))
    blocks += [plain(text) for text in rest if text]
    return "\n\n".join(blocks)


def columns(rows: Sequence[Sequence[str]]) -> str:
    """Rows in columns, two spaces apart: the second column to the left, the others to the right."""
    widths = [max(len(row[place]) for row in rows) for place in range(len(rows[0]))]
    lines = []
    for row in rows:
        cells = [
            cell.ljust(width) if place == 1 else cell.rjust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        lines.append("  ".join(cells).rstrip())
    return "\n".join(lines)


def plain(text: str) -> str:
    """A message's text without its markup."""
    return _ESCAPED.sub(r"\1", _MARKUP.sub("", text))
