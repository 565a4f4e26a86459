"""What is read from a class list, and all its mistakes at once."""

import csv
import io
from collections.abc import Sequence

import openpyxl
import pytest

from bot.rules.class_list.attach_class_list import BadList, NewList, kept_rows, on_the_list, read_class_list
from bot.rules.class_list.spreadsheet_or_csv import read_table
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import AnyReason, Reason
from storage.records.class_list import ClassListEntry

SECTIONS = ("7-A", "7-B")
ROWS = (("Name", "Section", "form back"), ("Ada B", "7-A", "yes"), ("Bo C", "7-b", ""))


def workbook(rows: Sequence[Sequence[object]]) -> bytes:
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(list(row))
    kept = io.BytesIO()
    book.save(kept)
    return kept.getvalue()


def csv_bytes(rows: Sequence[Sequence[str]], encoding: str = "utf-8", delimiter: str = ",") -> bytes:
    kept = io.StringIO(newline="")
    csv.writer(kept, delimiter=delimiter).writerows(rows)
    return kept.getvalue().encode(encoding)


def read(data: bytes, sections: Sequence[str] = SECTIONS) -> NewList:
    return read_class_list(read_table(data), sections)


def mistakes(rows: Sequence[Sequence[str]]) -> list[tuple[int, AnyReason]]:
    with pytest.raises(BadList) as bad:
        read(csv_bytes(rows))
    return [(row, refusal.reason) for row, refusal in bad.value.mistakes]


def refused(data: bytes) -> AnyReason:
    with pytest.raises(Refusal) as refusal:
        read(data)
    return refusal.value.reason


def test_all_mistakes_come_at_once_each_with_its_row() -> None:
    rows = [
        ("name", "section", "form back"),
        ("Ada B", "7-A", "yes"),
        ("", "7-A", ""),
        ("ada b", "7-A", "no"),
        ("Bo C", "9-Z", "maybe"),
        ('=HYPERLINK("x")', "7-A", ""),
        ("Ada B", "7-B", ""),
    ]
    assert mistakes(rows) == [
        (3, Reason.NAME_SHORT),
        (4, Reason.LIST_TWICE),
        (5, Reason.LIST_SECTION),
        (5, Reason.LIST_YES_NO),
        (6, Reason.LIST_FORMULA),
    ]


@pytest.mark.parametrize(
    ("heading", "reason"),
    [
        (("pupil", "section"), Reason.LIST_HEADINGS),
        (("name", "wing"), Reason.LIST_HEADINGS),
        (("name", "section", "form", "Form back", "form back"), Reason.LIST_HEADING_TWICE),
        (("name", "section", *(f"c{number}" for number in range(11))), Reason.LIST_COLUMNS),
        (("name", "section", "x" * 41), Reason.LIST_HEADING),
    ],
)
def test_headings_that_cannot_be_understood(heading: tuple[str, ...], reason: Reason) -> None:
    assert mistakes([heading, ("Ada B", "7-A")]) == [(1, reason)]


def test_with_one_section_the_column_may_be_missing() -> None:
    assert read(csv_bytes([("name",), ("Ada B",)]), ("7-A",)).names[0].section == "7-A"


def test_what_cannot_be_seen_is_no_part_of_a_heading() -> None:
    found = read("name,section,form\x01 back\u202e,\u200b\nAda B,7-A,yes,no\n".encode())
    assert found.columns == ("form back",)


def test_a_newer_list_keeps_only_what_its_own_file_says() -> None:
    assert kept_rows(read(csv_bytes(ROWS))) == [
        ("Ada B", "ada b", "7-A", {"form back": True}),
        ("Bo C", "bo c", "7-B", {"form back": False}),
    ]


def test_who_has_signed_up_is_the_free_name_of_the_own_section() -> None:
    entries = [
        ClassListEntry(
            id=number, tryout_id=1, name=name, folded=name.lower(), section=section, answers={}, student_id=student
        )
        for number, name, section, student in ((1, "Ada B", "7-A", 5), (2, "Ada B", "7-B", None))
    ]
    assert on_the_list("ada  B", "7-B", entries) is entries[1]
    assert on_the_list("Ada B", "7-A", entries) is None
