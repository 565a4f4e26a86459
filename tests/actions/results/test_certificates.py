"""Certificates: one file, a page for each student."""

from tests.actions.conftest import Begin, button
from tests.actions.results.test_head_teacher_page import pdf_text
from tests.actions.scored import whole


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
