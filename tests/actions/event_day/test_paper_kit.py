"""The paper kit, read back by an independent reader."""

import io
from decimal import Decimal

import pypdf

from storage.records.message import Message
from storage.records.plan import Event
from storage.records.plan_measures import Count, Item
from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import made, planned, slots
from tests.actions.table_help import NAMES, add_squads

PIECES = ("Paper chain", "no jumping")


def texts(message: Message) -> dict[str, list[str]]:
    """The words of each page of each file."""
    found = {}
    for file in message.files:
        reader = pypdf.PdfReader(io.BytesIO(file.data))
        found[file.name] = [" ".join(page.extract_text().split()) for page in reader.pages]
    return found


async def test_one_press_prints_everything_and_the_surprise_apart(begin: Begin) -> None:
    asking = await made(begin)
    files = texts(await asking.message("day.kit"))
    kit, sealed = files["event-day.pdf"], files["sealed.pdf"]
    assert kit[0].startswith("Timetable")
    for slot in await slots(asking):
        assert f"{slot.squad_id} {NAMES[slot.squad_id - 1]} (7-A): Sock run, run" in kit[0]
    assert any(page.startswith("Who is here") and "Student 10400" in page for page in kit)
    # A run sheet for each squad with two attempts; four squads, two judges, one rubric: eight judges' sheets.
    runs = [page for page in kit if "Sock run - section 7-A" in page]
    assert len(runs) == 4
    assert all("attempt 1 of 2" in page and "attempt 2 of 2" in page and "agreed" in page for page in runs)
    assert sum("Judge 1: Judge 1" in page or "Judge 2: Judge 2" in page for page in kit) == 8
    assert any("Build a robot that brings socks" in page for page in kit)
    for word in PIECES:
        assert not any(word in page for page in kit), word
    assert any("did not finish" in page and "no jumping" in page for page in sealed)
    assert any("Communication" in page for page in sealed)
    assert not any("Timetable" in page for page in sealed)


async def test_once_the_surprise_has_started_its_sheets_are_no_secret_file_for_judges_any_more(begin: Begin) -> None:
    asking = await made(begin)
    await asking.ask("surprise.start:chain")
    files = texts(await asking.message("day.kit"))
    assert any("Communication" in page for page in files["event-day.pdf"])


async def test_a_run_sheet_of_several_pages_says_on_each_whose_it_is(begin: Begin) -> None:
    items = tuple(Item(key=f"i{number}", name=f"Thing {number}") for number in range(5))
    many = Count(key="many", name="Five kinds", items=items, attempts=6, scale="best")
    event = Event(key="run", name="Sock run", weight=Decimal(1), measures=(many,))
    asking = await begin("window", events=(event,), tie_breaks=())
    await add_squads(asking, 2)
    pages = texts(await asking.message("day.kit"))["event-day.pdf"]
    sheets = [page for page in pages if "Five kinds, attempt" in page]
    assert len(sheets) > 4
    for number, name in ((1, NAMES[0]), (2, NAMES[1])):
        mine = [page for page in sheets if f"Squad {number}: {name}" in page]
        assert sum(page.count("Five kinds, attempt") for page in mine) == 6
    assert all("plan not frozen yet" in page for page in sheets)


async def test_only_the_coach_gets_the_kit(begin: Begin) -> None:
    asking = await made(begin)
    for who in (10_100, 201):
        answer = await asking.message("day.kit", who)
        assert answer.files == ()
        assert "Only a coach" in answer.text


async def test_the_kit_is_there_before_anything_is_drawn(begin: Begin) -> None:
    asking = await planned(begin, 1)
    files = texts(await asking.message("day.kit"))
    assert files["event-day.pdf"][0].startswith("Who is here")
