"""A CSV file or a spreadsheet as rows of plain cells, whatever somebody has attached."""

import csv
import io
import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason

LARGEST = 2_000_000
"""Bytes of a file."""
LARGEST_UNPACKED = 8_000_000
"""Bytes of a spreadsheet once unpacked; a list of `MOST_ROWS` with ten columns has less than one million."""
MOST_MARKS = 300_000
"""Tags and attributes in all of it: a small file can unpack to very many, and each costs time and memory."""
MOST_LOOKS = 10 * MOST_MARKS
"""The same, once for every sheet: the library looks into each of them."""
MOST_ROWS = 1000
LAST_ROW = 10 * MOST_ROWS
"""The number of a row beyond which nothing is looked for."""
MOST_CELLS = 40
"""Cells of a row that are looked at."""
LONGEST_CELL = 300
_ZIP, _OLE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_LOCKED = "EncryptedPackage".encode("utf-16-le")
"""An Office file with a password is an OLE container with a stream of this name ([MS-OFFCRYPTO] 2.3.4)."""
_UTF8_BOM, _UTF16_BOMS = b"\xef\xbb\xbf", (b"\xff\xfe", b"\xfe\xff")
_FORMULA = ("=", "+", "-", "@")
"""What makes a spreadsheet take a text for a formula when a CSV file is opened."""
_NUMBER = "0123456789.,"
_XML = re.compile(rb"(?:\xef\xbb\xbf)?\s*\0?<|\xff\xfe|\xfe\xff")
_OTHER_ENCODING = re.compile(rb"""encoding\s*=\s*["'](?!utf-8["'])""", re.IGNORECASE)
_SHEET = re.compile(rb"<(?:\w+:)?sheet[\s/>]")


@dataclass(frozen=True)
class TableRow:
    """One row: its number as a spreadsheet shows it, its cells, and which of them hold a formula."""

    number: int
    cells: tuple[str, ...]
    formulas: frozenset[int] = frozenset()


def read_table(data: bytes, size: int = 0) -> list[TableRow]:
    """The rows that hold anything, the headings first; `size` is the file's own where its bytes were not taken.

    Raises:
        Refusal: `list_large`, `list_locked`, `list_old_format`, `list_broken`, `list_encoding`, `list_empty`,
            `list_rows`.
    """
    if max(size, len(data)) > LARGEST:
        raise Refusal(Reason.LIST_LARGE, most=LARGEST // 1_000_000)
    if data.startswith(_OLE):
        raise Refusal(Reason.LIST_LOCKED if _LOCKED in data else Reason.LIST_OLD_FORMAT)
    rows = _spreadsheet(data) if data.startswith(_ZIP) else _csv(_decoded(data))
    found = []
    for row in rows:
        if any(row.cells):
            found.append(row)
        if len(found) > MOST_ROWS + 1:
            raise Refusal(Reason.LIST_ROWS, most=MOST_ROWS)
    if len(found) < 2:
        raise Refusal(Reason.LIST_EMPTY)
    return found


def _decoded(data: bytes) -> str:
    """The text of a CSV file: UTF-8, or UTF-16 where the file says so.

    Any other encoding would have to be guessed, and a wrong guess spoils names.
    """
    utf16 = data.startswith(_UTF16_BOMS)
    try:
        text = data.decode("utf-16" if utf16 else "utf-8-sig")
    except UnicodeDecodeError:
        raise Refusal(Reason.LIST_ENCODING) from None
    if "\0" in text:
        raise Refusal(Reason.LIST_ENCODING)
    return text


def _csv(text: str) -> Iterator[TableRow]:
    """Rows after RFC 4180; semicolons and tabs, which spreadsheets of other countries write, are taken too."""
    head = text.lstrip().partition("\n")[0]
    delimiter = max(",;\t", key=head.count)
    try:
        for number, cells in enumerate(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True), 1):
            kept = tuple(_tidy(cell) for cell in cells[:MOST_CELLS])
            yield TableRow(number, kept, frozenset(place for place, cell in enumerate(kept) if _is_formula(cell)))
    except csv.Error:
        raise Refusal(Reason.LIST_BROKEN) from None


def _spreadsheet(data: bytes) -> Iterator[TableRow]:
    """Rows of the first sheet of an Office Open XML workbook; formulas are seen and never computed."""
    import openpyxl

    try:
        _check_bounds(data)
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=False, keep_links=False)
        sheet = book.worksheets[0]
        sheet.reset_dimensions()
        for number, row in enumerate(sheet.iter_rows(max_col=MOST_CELLS), 1):
            if number > LAST_ROW:
                raise Refusal(Reason.LIST_ROWS, most=MOST_ROWS)
            kept = tuple(_cell(cell.value) for cell in row)
            formulas = (place for place, cell in enumerate(row) if cell.data_type == "f" or _is_formula(kept[place]))
            yield TableRow(number, kept, frozenset(formulas))
    except Refusal:
        raise
    except Exception:  # noqa: BLE001 - the library raises whatever a damaged part of the file leads it to
        raise Refusal(Reason.LIST_BROKEN) from None


def _check_bounds(data: bytes) -> None:
    """Refuse a workbook that would keep the library busy, or fill the memory, before it is given to it."""
    sheets = marks = 0
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        if sum(part.file_size for part in packed.infolist()) > LARGEST_UNPACKED:
            raise Refusal(Reason.LIST_LARGE, most=LARGEST_UNPACKED // 1_000_000)
        for part in packed.infolist():
            text = packed.read(part)
            if not _XML.match(text):
                continue
            if b"\0" in text or _OTHER_ENCODING.search(text[:200]):
                # Not as spreadsheets are written, and so that nothing could be counted in it.
                raise Refusal(Reason.LIST_BROKEN)
            marks += text.count(b"<") + text.count(b"=")
            sheets += len(_SHEET.findall(text))
    if marks > MOST_MARKS or marks * sheets > MOST_LOOKS:
        raise Refusal(Reason.LIST_ROWS, most=MOST_ROWS)


def _cell(value: Any) -> str:
    """What a cell of a spreadsheet holds, as it would be typed."""
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case float():
            return _tidy(f"{value:g}")
        case datetime() | date() | time():
            return _tidy(value.isoformat())
    return _tidy(str(value))


def _tidy(text: str) -> str:
    return " ".join(text[:LONGEST_CELL].split())


def _is_formula(cell: str) -> bool:
    """Whether a spreadsheet would compute this text; a plain number with a sign is none."""
    return cell.startswith(_FORMULA) and bool(cell[1:]) and not all(letter in _NUMBER for letter in cell[1:])
