"""Rosters and standings as a spreadsheet, read back."""

import io
from datetime import UTC, datetime
from zipfile import ZipFile

import openpyxl

from bot.words.results.spreadsheet import spreadsheet
from tests.actions.conftest import Begin
from tests.actions.office_cast import make_squad
from tests.actions.scored import whole


async def test_the_spreadsheet_holds_no_formula_and_no_standings_before_judging_is_closed(begin: Begin) -> None:
    asking = await begin()
    await make_squad(asking, 1, 3, "Crooked Spoons")
    async with asking.store.write() as db:
        await db.run("UPDATE student SET name = '=1+1' WHERE platform_id = 2")
    message = await asking.message("records.spreadsheet")
    book = openpyxl.load_workbook(io.BytesIO(message.files[0].data))
    assert book.sheetnames == ["Roster"]
    rows = [[cell.value for cell in row] for row in book["Roster"].iter_rows()]
    assert rows[0] == ["section", "squad", "name", "captain", "account"]
    assert rows[1] == ["7-A", "Crooked Spoons", "Student 1", "yes", "yes"]
    assert [row[2] for row in rows].count("'=1+1") == 1
    assert all(cell.data_type != "f" for row in book["Roster"].iter_rows() for cell in row)


async def test_standings_are_in_it_once_they_may_be_seen(begin: Begin) -> None:
    asking, _ = await whole(begin, 3)
    message = await asking.message("records.spreadsheet")
    book = openpyxl.load_workbook(io.BytesIO(message.files[0].data))
    assert book.sheetnames == ["Roster", "Standings"]
    totals = [row[4].value for row in list(book["Standings"].iter_rows())[1:]]
    assert len(totals) == 3 and all(isinstance(total, int | float) for total in totals)


def test_the_same_tables_make_the_same_file_whenever_the_machine_thinks_it_is() -> None:
    now = datetime(2027, 2, 1, 12, 0, tzinfo=UTC)
    made = [spreadsheet({"Roster": [["name"], ["Ada"]]}, now).message.files[0].data for _ in range(2)]
    assert made[0] == made[1]
    with ZipFile(io.BytesIO(made[0])) as packed:
        assert {part.date_time for part in packed.infolist()} == {(2027, 2, 1, 12, 0, 0)}
        assert packed.read("docProps/core.xml").count(b"2027-02-01T12:00:00Z") == 2
