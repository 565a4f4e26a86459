"""One squad's way to its total as a picture: a bar for each event, cut into its measures, then the total."""

from fractions import Fraction

from bot.rules.core.rounding import rounded
from bot.rules.scoring.standings_records import EventScore, MeasureScore, Row
from bot.words.core.number_text import exact_percent, out_of
from bot.words.scoring.picture_canvas import END, FULL, LABEL, MARGIN, NOTE, Canvas, Pen, drawable_name
from bot.words.scoring.picture_colours import SOFT
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.standings import sum_text
from bot.words.scoring.standings_picture import ALT_LENGTH, BAR_HEIGHT, NUMBER_WIDTH, stamp
from storage.records.message import Attachment

BAR = 0.52
LINE = 0.21
DETAIL = Pen(9, SOFT)
DETAIL_END = Pen(9, SOFT, align="right")
SUM = Pen(9.5, align="right")


def why_picture(result: ResultView, row: Row, title: str) -> Attachment:
    """The bars of one ranked squad; `title` heads picture and alt text."""
    heights = [BAR + LINE * len(_details(event)) + 0.08 for event in row.events]
    canvas = Canvas(0.68 + sum(heights) + BAR + 0.4)
    canvas.head(title, stamp(result))
    y = canvas.height - 0.68
    # A value beyond the plan's maximum earns more than 100 points; then the longest bar is full.
    longest = max(Fraction(100), row.total or Fraction(0), *(event.points or Fraction(0) for event in row.events))
    for place, (event, height) in enumerate(zip(row.events, heights, strict=True)):
        _event(canvas, result, event, y, place, longest)
        y -= height
    _total(canvas, result, row, y - 0.06, longest)
    canvas.write(MARGIN, 0.14, f"A full bar is {float(longest):.4g} points. Numbers are rounded.", NOTE)
    return Attachment(name="way.png", data=canvas.png(), alt=why_alt(result, row, title))


def own_title(result: ResultView, row: Row) -> str:
    """The heading of a squad's own picture."""
    return f"Your result: {drawable_name(result.squads[row.squad_id])}"


def _details(event: EventScore) -> list[MeasureScore]:
    return [score for score in event.measures if score.scaled is not None] if len(event.measures) > 1 else []


def _points(score: MeasureScore) -> Fraction:
    return 100 * score.share * (score.scaled or Fraction(0))


def _event(canvas: Canvas, result: ResultView, event: EventScore, top: float, place: int, longest: Fraction) -> None:
    canvas.write(MARGIN, top - 0.06, result.event(event.key).name, LABEL, FULL - 1.75)
    canvas.write(MARGIN + FULL, top - 0.06, _sum(event), SUM)
    base, left = top - 0.38, MARGIN
    canvas.bare(MARGIN, base, FULL, BAR_HEIGHT)
    if event.state == "scored":
        parts = [_points(score) for score in event.measures]
        for part in parts:
            width = FULL * float(part / longest)
            canvas.piece(left, base, width, BAR_HEIGHT, place)
            number = rounded(part, 1)
            if width > NUMBER_WIDTH * len(number):
                canvas.number(left + width / 2, base + BAR_HEIGHT / 2 - 0.005, number, place)
            left += width
    for line, score in enumerate(_details(event)):
        y = base - 0.11 - LINE * line
        name = result.measure(event.key, score.key).name
        canvas.write(MARGIN, y, name, DETAIL, FULL - 1.0)
        canvas.write(MARGIN + FULL, y, out_of(_points(score), score.share * 100), DETAIL_END)


def _sum(event: EventScore) -> str:
    if event.state == "excused":
        return "excused"
    if event.points is None or event.contribution is None:
        return "not complete"
    away = "absent, " if event.state == "absent" else ""
    return f"{away}{rounded(event.points, 1)} x {exact_percent(event.share)} = {rounded(event.contribution, 1)}"


def _total(canvas: Canvas, result: ResultView, row: Row, top: float, longest: Fraction) -> None:
    canvas.write(MARGIN, top - 0.06, "Total", LABEL)
    canvas.write(MARGIN + FULL, top - 0.06, result.total(row), END)
    base, left = top - 0.38, MARGIN
    canvas.bare(MARGIN, base, FULL, BAR_HEIGHT)
    for place, event in enumerate(row.events):
        width = FULL * float((event.contribution or Fraction(0)) / longest)
        canvas.piece(left, base, width, BAR_HEIGHT, place)
        left += width


def why_alt(result: ResultView, row: Row, title: str) -> str:
    """The picture in words: the same numbers."""
    parts = []
    for event in row.events:
        said = f"{result.event(event.key).name}: {_sum(event)}"
        details = [
            f"{result.measure(event.key, score.key).name} {out_of(_points(score), score.share * 100)}"
            for score in _details(event)
        ]
        parts.append(f"{said} ({', '.join(details)})" if details else said)
    total = f"Total {result.total(row)} = {sum_text(row)} (rounded)."
    title = f"{title}{'' if title.endswith('?') else '.'} {stamp(result)}"
    alt = f"{title}. {'; '.join(parts)}. {total}"
    return alt if len(alt) <= ALT_LENGTH else f"{title}. {total}"[:ALT_LENGTH]
