"""Records: the book of incidents, certificates, a page without names, and a spreadsheet, read back."""

import io
from datetime import UTC, datetime
from zipfile import ZipFile

import openpyxl
from pypdf import PdfReader

from bot.words.results.spreadsheet import spreadsheet
from storage.records.message import Message
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import make_squad
from tests.actions.scored import whole


def pdf_text(message: Message) -> list[str]:
    reader = PdfReader(io.BytesIO(message.files[0].data))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


async def test_sixty_certificates_come_in_one_file_a_page_each(begin: Begin) -> None:
    asking, _ = await whole(begin, 3)
    assert "once the result is announced" in (await asking.message("records.certificates")).text
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    async with asking.store.write() as db:
        squads = [row[0] for row in await db.rows("SELECT id FROM squad")]
        number = int(await db.value("SELECT count(*) FROM student"))
        for more in range(number, 60):
            await db.run(
                "INSERT INTO student (tryout_id, name, section, squad_id, joined_at) VALUES (1, ?, '7-A', ?, ?)",
                f"Zoë Ńowak {more}",
                squads[more % 3],
                "2027-01-12T00:00:00.000000+00:00",
            )
    message = await asking.message("records.certificates")
    pages = pdf_text(message)
    assert len(pages) == 60 and "60 certificates" in message.text
    assert sum("Zoë Ńowak" in page and "took part with the squad" in page for page in pages) == 60 - number


async def test_the_page_for_the_head_teacher_has_numbers_and_no_name(begin: Begin) -> None:
    asking, _ = await whole(begin, 3)
    async with asking.store.write() as db:
        await db.run("UPDATE student SET name = 'Zacharias ' || id")
        await db.run("UPDATE squad SET name = 'Zany ' || id")
    await asking.ask("records.incident-noted", fields={"what": "Zacharias fell", "who": "", "decision": ""})
    pages = pdf_text(await asking.message("records.one-page"))
    assert len(pages) == 1
    assert "3 squads with" in pages[0] and "1 incident noted" in pages[0] and "Za" not in pages[0]


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


async def test_incidents_are_noted_read_by_coaches_and_struck(begin: Begin) -> None:
    asking, _ = await whole(begin, 3)
    page = await asking.message("records.incidents")
    assert "Only coaches can read this" in page.text
    form = await asking.form(button(page, "Note an incident").key)
    fields = {"what": "A robot was taken apart", "who": "Two students", "decision": "They rebuilt it together"}
    assert "They rebuilt it together" in (await asking.message(form.key, fields=fields)).text
    assert "in a few words" in (await asking.message(form.key, fields={"what": " "})).text
    struck = await asking.message("records.incident-struck", values=("1",))
    assert "(0)" in struck.text
    assert "not in the book" in (await asking.message("records.incident-struck", values=("1",))).text


def test_the_same_tables_make_the_same_file_whenever_the_machine_thinks_it_is() -> None:
    now = datetime(2027, 2, 1, 12, 0, tzinfo=UTC)
    made = [spreadsheet({"Roster": [["name"], ["Ada"]]}, now).message.files[0].data for _ in range(2)]
    assert made[0] == made[1]
    with ZipFile(io.BytesIO(made[0])) as packed:
        assert {part.date_time for part in packed.infolist()} == {(2027, 2, 1, 12, 0, 0)}
        assert packed.read("docProps/core.xml").count(b"2027-02-01T12:00:00Z") == 2
