"""Cells of tables that are taken along: CSV after RFC 4180, and no cell that a spreadsheet would run."""

import csv
import re
from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from io import StringIO

from bot.rules.core.rounding import rounded
from bot.words.core.plain_text import visible
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
