"""The brief is read page by page, and holds no surprise."""

from storage.records.message import Button, Message, Replace, Say
from tests.actions.conftest import Asking, Begin, button
from tests.actions.office_cast import BRIEF, make_squad, until


async def test_the_brief_is_turned_page_by_page_and_counts_as_read_once_at_its_last_page(begin: Begin) -> None:
    asking = await begin("drafting", brief="Read me. " * 190)
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    assert "Everyone gets it" in (await asking.message("brief.open", 1)).text
    await until(asking, BRIEF)
    first = await asking.ask("brief.open", 1)
    assert isinstance(first, Say) and first.message.text.startswith("**Quillmere")
    shown, turned = first.message, 0
    while onward := [one for one in buttons(shown) if one.label.startswith("Next page")]:
        assert "Please read on to the last page" in shown.text and onward[0].style == "main"
        assert await read_by(asking) == (0, 0)
        later = await asking.ask(onward[0].key, 1)
        assert isinstance(later, Replace)
        shown, turned = later.message, turned + 1
    assert turned >= 1 and "read on" not in shown.text
    assert await read_by(asking) == (1, 1)
    back = await asking.message(button(shown, f"Back to page {turned}").key, 1)
    await asking.ask(button(back, f"Next page {turned + 1} of {turned + 1}").key, 1)
    assert await read_by(asking) == (1, 1)


def buttons(message: Message) -> list[Button]:
    return [part for row in message.rows if isinstance(row, tuple) for part in row]


async def read_by(asking: Asking) -> tuple[int, int]:
    """How many students have read the brief, and how often that was noted."""
    async with asking.store.read() as db:
        rows = await db.rows("SELECT id, brief_opened_at FROM student WHERE brief_opened_at IS NOT NULL")
        entries = await db.value("SELECT count(*) FROM audit_log WHERE action = 'brief.open'")
    return len(rows), int(entries)
