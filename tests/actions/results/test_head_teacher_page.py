"""The page for the head teacher has numbers and no name."""

import io

from pypdf import PdfReader

from storage.records.message import Message
from tests.actions.conftest import Begin
from tests.actions.scored import whole


def pdf_text(message: Message) -> list[str]:
    reader = PdfReader(io.BytesIO(message.files[0].data))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


async def test_the_page_for_the_head_teacher_has_numbers_and_no_name(begin: Begin) -> None:
    asking, _ = await whole(begin, 3)
    async with asking.store.write() as db:
        await db.run("UPDATE student SET name = 'Zacharias ' || id")
        await db.run("UPDATE squad SET name = 'Zany ' || id")
    await asking.ask("records.incident-noted", fields={"what": "Zacharias fell", "who": "", "decision": ""})
    pages = pdf_text(await asking.message("records.one-page"))
    assert len(pages) == 1
    assert "3 squads with" in pages[0] and "1 incident noted" in pages[0] and "Za" not in pages[0]
