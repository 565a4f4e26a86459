"""Score sheets on paper are printed for a judge, one page a squad."""

import io

import pypdf

from storage.records.message import Message
from tests.actions.conftest import Begin, button
from tests.actions.judging.test_paper_sheet_entry import HELPER, opened
from tests.actions.judging_cast import ADA, SQUADS, cast
from tests.actions.table_help import select


def pages(message: Message) -> list[str]:
    [file] = message.files
    assert file.name.endswith(".pdf")
    return [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(file.data)).pages]


async def test_the_coach_prints_the_sheets_of_a_judge_one_page_a_squad_in_the_judges_order(begin: Begin) -> None:
    found = await opened(begin)
    panel = await found.asking.message("paper.panel:0")
    ada = await found.judge(ADA)
    printed = pages(await found.asking.message(select(panel).key, values=(str(ada.id),)))
    order = [sheet.squad_id for sheet in await found.sheets(ADA)]
    assert [next(number for number, name in enumerate(SQUADS, 1) if name in page) for page in printed] == order
    large = await found.asking.message(button(panel, "Large print").key)
    assert "large print" in select(large).prompt
    assert len(pages(await found.asking.message(select(large).key, values=(str(ada.id),)))) >= 3


async def test_sheets_can_be_printed_before_judging_opens_and_a_surprise_only_once_it_is_open(begin: Begin) -> None:
    found = await cast(begin)
    before = pages(await found.asking.message("sheets.paper", ADA))
    assert len(before) == 3 and all("Bunting" in page for page in before)
    await found.open()
    assert pages(await found.asking.message("sheets.paper", ADA)) == before
    await found.asking.message("surprise.start:chain")
    assert len(pages(await found.asking.message("sheets.paper", ADA))) == 6


async def test_nobody_else_types_in_or_prints_for_others(begin: Begin) -> None:
    found = await opened(begin)
    sheet = (await found.sheet(ADA, "Crooked Spoons")).id
    for key in ("paper.enter", f"paper.save:{sheet}:1:0:1", f"paper.settled:{sheet}:1"):
        assert "types in paper sheets" in (await found.asking.message(key, ADA)).text
    assert "Only a coach" in (await found.asking.message("paper.print:0", HELPER, values=("1",))).text
    assert "Only a judge" in (await found.asking.message("sheets.paper", HELPER)).text
