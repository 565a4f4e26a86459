"""Pictures of the result: one stacked bar a squad, with the numbers in it, readable at the width of a phone."""

from collections.abc import Sequence
from dataclasses import dataclass

from bot.rules.core.rounding import rounded
from bot.rules.scoring.standings_records import Row
from bot.words.core.number_text import exact_percent
from bot.words.core.times import short_day
from bot.words.scoring.picture_canvas import END, FULL, LABEL, MARGIN, NOTE, Canvas, Pen, drawable_name
from bot.words.scoring.picture_colours import SOFT
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.standings import sum_text
from storage.records.message import Attachment

MOST_BARS = 25
"""So many squads a picture holds that can be read on a phone; the others are left out."""
ALT_LENGTH = 1024
STEP = 0.5
"""Inches from one bar to the next."""
BAR_HEIGHT = 0.21
NUMBER_WIDTH = 0.09
"""Room that a letter of a number in a bar takes."""
LEGEND = Pen(9.5, SOFT)


@dataclass(frozen=True)
class Bar:
    """One line of a picture: a label, what stands at its right end, and its pieces."""

    label: str
    end: str
    pieces: Sequence[tuple[float, str]]
    """Length in points and the number written in it, for each event in turn."""


def stamp(result: ResultView) -> str:
    """What stands on every picture of a result: whether every squad is in it, and of which day it is."""
    ranked, waiting = len(result.standings.rows), len(result.standings.unranked)
    state = "Complete" if result.standings.complete else f"INCOMPLETE: {ranked} of {ranked + waiting} squads"
    return f"{state}, {' '.join(short_day(result.on).split())}" if result.on else state


def standings_picture(result: ResultView, rows: Sequence[Row], title: str, ranked: bool = True) -> Attachment:
    """The totals of some squads as stacked bars; `ranked` writes the place before the name."""
    bars = [_bar(result, row, ranked) for row in rows[:MOST_BARS]]
    weights = result.standings.weights
    legend = [f"{event.name} (counts {exact_percent(weights[event.key])})" for event in result.plan.events]
    alt = standings_alt(result, rows, title, ranked)
    return Attachment(name="standings.png", data=stacked(title, stamp(result), legend, bars), alt=alt)


def standings_alt(result: ResultView, rows: Sequence[Row], title: str, ranked: bool = True) -> str:
    """The picture in words: the same numbers, shortened to totals only where all of them would not fit."""
    title = f"{title}. {stamp(result)}"
    events = " + ".join(event.name for event in result.plan.events)
    names = [f"{row.rank}. " * ranked + result.squads[row.squad_id].name for row in rows[:MOST_BARS]]
    totals = [f"{name} {result.total(row)}" for name, row in zip(names, rows, strict=False)]
    full = [f"{total} = {sum_text(row)}" for total, row in zip(totals, rows, strict=False)]
    for lines in (full, totals):
        alt = f"{title}. Stacked bars, total = {events} (rounded). {'; '.join(lines)}."
        if len(alt) <= ALT_LENGTH:
            return alt
    while len("; ".join(totals)) > ALT_LENGTH - 200:
        totals.pop()
    return f"{title}. {'; '.join(totals)}; and {len(names) - len(totals)} more."


def _bar(result: ResultView, row: Row, ranked: bool) -> Bar:
    name = drawable_name(result.squads[row.squad_id])
    pieces = [
        (float(event.contribution or 0), "" if event.contribution is None else rounded(event.contribution, 1))
        for event in row.events
    ]
    return Bar(f"{row.rank}  {name}" if ranked else name, result.total(row), pieces)


def stacked(title: str, stamp: str, legend: Sequence[str], bars: Sequence[Bar]) -> bytes:
    """Stacked bars, one below the other, each under its own label, as a PNG."""
    head = 0.72 + 0.2 * len(legend)
    canvas = Canvas(head + STEP * len(bars) + 0.26)
    canvas.head(title, stamp)
    for place, name in enumerate(legend):
        middle = canvas.height - 0.7 - 0.2 * place
        canvas.piece(MARGIN, middle - 0.065, 0.24, 0.13, place)
        canvas.write(MARGIN + 0.31, middle, name, LEGEND, FULL - 0.31)
    # A value beyond the plan's maximum scales beyond its share; then the longest bar is full, and 100 is no longer so.
    longest = max([100.0, *(sum(length for length, _ in bar.pieces) for bar in bars)])
    for place, bar in enumerate(bars):
        _draw(canvas, canvas.height - head - STEP * place, bar, longest)
    canvas.write(MARGIN, 0.14, f"A full bar is {longest:.4g} points. Numbers are rounded.", NOTE)
    return canvas.png()


def _draw(canvas: Canvas, top: float, bar: Bar, longest: float) -> None:
    """One bar: label and total above it, its pieces on a pale track below."""
    canvas.write(MARGIN, top - 0.06, bar.label, LABEL, FULL - 0.7)
    canvas.write(MARGIN + FULL, top - 0.06, bar.end, END)
    base, left = top - 0.38, MARGIN
    canvas.bare(MARGIN, base, FULL, BAR_HEIGHT)
    for place, (length, number) in enumerate(bar.pieces):
        width = FULL * max(length, 0.0) / longest
        canvas.piece(left, base, width, BAR_HEIGHT, place)
        if number and width > NUMBER_WIDTH * len(number):
            canvas.number(left + width / 2, base + BAR_HEIGHT / 2 - 0.005, number, place)
        left += width
