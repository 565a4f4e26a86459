"""Files as schools have them: CSV after RFC 4180 and workbooks of a general spreadsheet library, huge or broken."""

import io
import zipfile
from collections.abc import Callable
from contextlib import suppress

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.rules.class_list.attach_class_list import BadList
from bot.rules.class_list.spreadsheet_or_csv import LARGEST
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from tests.rules.class_list.test_attach_class_list import ROWS, csv_bytes, read, refused, workbook

SHEET, STYLES = "sheet1.xml", "styles.xml"
NAMESPACE = b"http://schemas.openxmlformats.org/spreadsheetml/2006/main"
FIRST_ROW = b'<row r="1"><c t="inlineStr"><is><t>name</t></is></c><c t="inlineStr"><is><t>section</t></is></c></row>'
ENTITY = b'<!DOCTYPE l [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;"><!ENTITY c SYSTEM "file:///etc/passwd">]>'

BOMBS: dict[str, tuple[str, Callable[[], bytes], Reason]] = {
    "a row at the end of the world": (SHEET, lambda: sheet_of(b'<row r="99999999999"><c/></row>'), Reason.LIST_ROWS),
    "a row that is far away": (SHEET, lambda: sheet_of(b'<row r="1048576"><c/></row>'), Reason.LIST_ROWS),
    "very many cells": (SHEET, lambda: sheet_of(b"<row>" + b"<c/>" * 500_000 + b"</row>"), Reason.LIST_ROWS),
    "very many attributes": (
        SHEET,
        lambda: sheet_of(b"<row %s/>" % b" ".join(b'a%d=""' % number for number in range(400_000))),
        Reason.LIST_ROWS,
    ),
    "very many styles": (
        STYLES,
        lambda: b'<styleSheet xmlns="%s"><fonts>%s' % (NAMESPACE, b"<a/>" * 500_000),
        Reason.LIST_ROWS,
    ),
    "very much of nothing": (STYLES, lambda: b"<styleSheet>" + b" " * 9_000_000, Reason.LIST_LARGE),
    "entities": (SHEET, lambda: sheet_of(b"<row><c><v>&b;&c;</v></c></row>", ENTITY), Reason.LIST_BROKEN),
    "another encoding": (SHEET, lambda: sheet_of(b"", b'<?xml version="1.0" encoding="cp037"?>'), Reason.LIST_BROKEN),
    "two bytes a letter": (SHEET, lambda: sheet_of(b"").decode().encode("utf-16"), Reason.LIST_BROKEN),
}
"""Small files, made so that a reader of spreadsheets is busy for ever or fills the memory; made where they are used."""

LOCKED = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 504 + "EncryptedPackage".encode("utf-16-le") + b"\0" * 90
"""What begins a workbook with a password ([MS-CFB] 2.2, [MS-OFFCRYPTO] 2.3.4), without the rest of it."""


@pytest.mark.parametrize(
    "data",
    [
        csv_bytes(ROWS),
        csv_bytes(ROWS, "utf-8-sig"),
        csv_bytes(ROWS, "utf-16"),
        csv_bytes(ROWS, delimiter=";"),
        csv_bytes(ROWS, delimiter="\t"),
        workbook(ROWS),
        workbook([*ROWS[:1], ("Ada B", "7-A", True), (None, None, None), ("Bo C", "7-B", False)]),
    ],
    ids=["csv", "with a byte order mark", "utf-16", "semicolons", "tabs", "workbook", "true and false"],
)
def test_the_same_list_is_read_from_every_kind_of_file(data: bytes) -> None:
    found = read(data)
    assert found.columns == ("form back",)
    assert [(one.name, one.section, dict(one.answers)) for one in found.names] == [
        ("Ada B", "7-A", {"form back": True}),
        ("Bo C", "7-B", {"form back": False}),
    ]


def test_rfc_4180_quotes_line_breaks_and_commas_inside_a_cell() -> None:
    """RFC 4180, section 2, rules 5 to 7."""
    data = b'"name","section"\r\n"Ada ""Sock"" B, C","7-A"\r\n"Bo\r\nD",7-B'
    assert [one.name for one in read(data).names] == ['Ada "Sock" B, C', "Bo D"]


def test_a_formula_of_a_workbook_is_seen_and_never_computed() -> None:
    with pytest.raises(BadList) as bad:
        read(workbook([("name", "section"), ('="Ada"&" B"', "7-A")]))
    assert [refusal.reason for _, refusal in bad.value.mistakes] == [Reason.LIST_FORMULA]


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (LOCKED, Reason.LIST_LOCKED),
        (LOCKED[:100], Reason.LIST_OLD_FORMAT),
        (workbook(ROWS)[:-400], Reason.LIST_BROKEN),
        (b"PK\x03\x04 and then something else", Reason.LIST_BROKEN),
        (b'name,section\n"Ada,7-A', Reason.LIST_BROKEN),
        ("name,section\nZoë,7-A".encode("latin-1"), Reason.LIST_ENCODING),
        ("name,section\nZoë,7-A".encode("utf-16-le"), Reason.LIST_ENCODING),
        (b"", Reason.LIST_EMPTY),
        (b"name,section\n,\n", Reason.LIST_EMPTY),
        (csv_bytes([("name", "section"), *((f"Ada {number}", "7-A") for number in range(5000))]), Reason.LIST_ROWS),
        (b"x" * (LARGEST + 1), Reason.LIST_LARGE),
    ],
    ids=["locked", "old", "cut", "no zip", "quote", "latin", "utf-16 unsaid", "nothing", "blank", "5000", "large"],
)
def test_a_file_that_cannot_be_a_list_is_refused_as_a_whole(data: bytes, reason: Reason) -> None:
    assert refused(data) is reason


@pytest.mark.parametrize(("part", "text", "reason"), BOMBS.values(), ids=BOMBS)
def test_a_workbook_that_would_keep_the_reader_busy_is_refused_before_it_is_read(
    part: str, text: Callable[[], bytes], reason: Reason
) -> None:
    assert refused(with_part(part, text())) is reason


def test_the_largest_list_there_may_be_is_taken_in_a_workbook_with_many_sheets() -> None:
    rows = [("name", "section", *(f"ok {n}" for n in range(10)))]
    rows += [(f"Student Number {number}", "7-A", *("yes", "no") * 5) for number in range(1000)]
    book = openpyxl.load_workbook(io.BytesIO(workbook(rows)))
    for _ in range(11):
        book.create_sheet()
    kept = io.BytesIO()
    book.save(kept)
    assert len(read(kept.getvalue()).names) == 1000


@given(data=st.binary(max_size=300) | st.binary(max_size=300).map(lambda more: workbook(ROWS)[:600] + more))
def test_whatever_is_attached_is_read_or_refused(data: bytes) -> None:
    with suppress(Refusal, BadList):
        read(data)


NAMES = st.lists(
    st.from_regex(r"[A-Z][a-z]{2,8} [A-Z]", fullmatch=True), min_size=1, max_size=20, unique_by=str.casefold
)


@given(names=NAMES, answers=st.lists(st.booleans(), min_size=20, max_size=20))
def test_what_a_general_library_has_written_comes_back(names: list[str], answers: list[bool]) -> None:
    rows = [(name, "7-A", "yes" if yes else "no") for name, yes in zip(names, answers, strict=False)]
    found = [
        (one.name, one.section, one.answers["ok"]) for one in read(csv_bytes([("name", "section", "ok"), *rows])).names
    ]
    assert found == [(name, section, yes == "yes") for name, section, yes in rows]


def with_part(ending: str, text: bytes) -> bytes:
    """A workbook in which one part says something else."""
    kept = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(workbook(ROWS))) as made, zipfile.ZipFile(kept, "w", zipfile.ZIP_DEFLATED) as new:
        for part in made.infolist():
            new.writestr(part.filename, text if part.filename.endswith(ending) else made.read(part))
    return kept.getvalue()


def sheet_of(rows: bytes, before: bytes = b"") -> bytes:
    return b'%s<worksheet xmlns="%s"><sheetData>%s</sheetData></worksheet>' % (before, NAMESPACE, FIRST_ROW + rows)
