"""Tables for a spreadsheet: RFC 4180, no cell that a spreadsheet would run, and the columns of the standings."""

import csv
import re
from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from io import StringIO

from bot.rules.core.rounding import rounded
from bot.rules.scoring.standings_records import EventScore, Row
from bot.words.core.plain_text import visible
from bot.words.scoring.result_view import ResultView
from storage.records.message import Attachment

DANGEROUS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""A text cell that begins with one of these would be run as a formula by some spreadsheet (OWASP, CSV injection)."""
_NO_CHARACTER = re.compile("[\ufffe\uffff]")
EXACT_DIGITS = 9
Cell = str | int | Decimal | Fraction | None


def neutral(text: str) -> str:
    """A text that people typed, as a cell that no spreadsheet runs."""
    return f"'{text}" if text.startswith(DANGEROUS) else text


def csv_text(rows: Iterable[Sequence[Cell]]) -> str:
    """Rows as RFC 4180 text: CRLF, quotes where needed; texts are made harmless, numbers are left alone."""
    target = StringIO(newline="")
    writer = csv.writer(target, lineterminator="\r\n")
    for row in rows:
        writer.writerow([_cell(cell) for cell in row])
    return target.getvalue()


def _cell(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return neutral(cell)
    if isinstance(cell, Fraction):
        return str(cell.numerator) if cell.denominator == 1 else rounded(cell, EXACT_DIGITS).rstrip("0").rstrip(".")
    return str(cell)


def plain_cell(cell: Cell) -> str | int | float | None:
    """A cell for a workbook: numbers as numbers (rounded to what a workbook holds), texts made harmless.

    What nobody can see is left out: XML 1.0, and so a workbook, cannot hold most of it.
    """
    if isinstance(cell, str):
        return neutral(_NO_CHARACTER.sub("", visible(cell)))
    return float(cell) if isinstance(cell, Decimal | Fraction) else cell


def csv_file(name: str, rows: Iterable[Sequence[Cell]]) -> Attachment:
    """A table as a file; the byte-order mark tells spreadsheets that it is UTF-8."""
    return Attachment(name=name, data=b"\xef\xbb\xbf" + csv_text(rows).encode())


def standings_rows(result: ResultView) -> list[list[Cell]]:
    """The whole table: one line a squad, with the points and the contribution of every event."""
    head: list[Cell] = ["place", "number", "squad", "section", "total"]
    for event in result.plan.events:
        head += [f"{event.name}: points of 100", f"{event.name}: share of the total", f"{event.name}: state"]
    return [head, *(_row(result, row) for row in (*result.standings.rows, *result.standings.unranked))]


def _row(result: ResultView, row: Row) -> list[Cell]:
    squad = result.squads[row.squad_id]
    cells: list[Cell] = [row.rank, squad.number, squad.name, squad.section, row.total]
    for event in row.events:
        cells += [event.points, event.contribution, _state(event)]
    return cells


def _state(event: EventScore) -> str:
    return {"scored": "", "absent": "absent", "excused": "excused", "incomplete": "something is missing"}[event.state]
