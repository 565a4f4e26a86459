"""What `tenbell standings` prints: the standings as plain text, who holds a place, and by how much the first leads."""

from collections.abc import Sequence
from fractions import Fraction

from bot.rules.core.rounding import rounded
from bot.rules.scoring.standings import by_number, leader
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count, exact_percent
from bot.words.core.plain_text import without_markup
from bot.words.scoring.missing_scores import headline, missing_lines, waiting_line
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.standings import ROUNDED, contest_lines
from bot.words.scoring.tie_breaks import run_off_lines, tie_lines


def nothing() -> str:
    """There is no try-out in the database."""
    return "There is no try-out in this database yet."


def sealed_report(result: ResultView) -> str:
    """While judging is open: who owes what, and no mark, total or order."""
    seal = "Sealed: no marks, points or order are shown before judging is closed."
    blocks = [result.plan.name, headline(result), seal, waiting_line(result), missing_lines(result)]
    return "\n\n".join(without_markup(text) for text in blocks if text)


def standings_report(result: ResultView) -> str:
    """Complete or not, the table in columns, the ties and who holds the place.

    While squads wait the table is by number and without places, and nobody is said to hold one.
    """
    complete = result.standings.complete
    events = result.plan.events
    shares = result.standings.weights
    head = ["place", "squad", "total", *(f"{event.name} ({exact_percent(shares[event.key])})" for event in events)]
    rows = [
        [
            str(row.rank) if complete else "-",
            result.squads[row.squad_id].name,
            result.total(row),
            *("excused" if one.contribution is None else rounded(one.contribution, 1) for one in row.events),
        ]
        for row in (result.standings.rows if complete else by_number(result.rows))
    ]
    table = f"{columns([head, *rows])}\n{ROUNDED}" if rows else "No squad can be ranked yet."
    blocks = [result.plan.name, without_markup(headline(result)), table]
    rest = (
        (place_lines(result), gap_line(result), tie_lines(result))
        if complete
        else (waiting_line(result), missing_lines(result))
    )
    blocks += [without_markup(text) for text in rest if text]
    return "\n\n".join(blocks)


def place_lines(result: ResultView) -> str:
    """Who holds a place now, and the tie that must be settled first."""
    places = result.plan.places
    found = result.standings
    lines = []
    if found.placed:
        names = listing(result.names(found.placed))
        if places == 1:
            lines.append(f"**The place**: {names} holds it now.")
        else:
            verb = (
                "holds one" if len(found.placed) == 1 else "hold them" if len(found.placed) == places else "hold places"
            )
            lines.append(f"**The {count(places, 'place')}**: {names} {verb} now.")
    lines += contest_lines(result)
    if found.straddle is not None:
        lines.append(run_off_lines(result))
    return "\n".join(lines)


def gap_line(result: ResultView) -> str:
    """By how much the first leads the second."""
    rows = result.standings.rows
    first = leader(result.standings)
    if first is None or len(rows) < 2 or first.total is None or rows[1].total is None:
        return ""
    if {first.squad_id, rows[1].squad_id} & result.hidden:
        return ""
    lead = first.total - rows[1].total
    if lead == 0:
        return "First and second have the same total; a tie-break or a run-off decided."
    points = f"by {rounded(lead, 1)} points" if lead >= Fraction(1, 10) else "by less than a tenth of a point"
    return f"{result.name(first.squad_id)} leads {result.name(rows[1].squad_id)} {points}."


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
