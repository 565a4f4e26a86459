"""A judge's own list: every sheet by squad, the next one first, page by page, and nothing of other judges."""

from datetime import timedelta
from decimal import Decimal

from storage.records.event_day import DaySlot
from storage.records.message import Message, Open
from storage.records.scores import Attempt
from storage.tables import attempts, day_timetable, squads
from tests.actions.conftest import Begin, button
from tests.actions.judging_cast import ADA, BEN, CY, SQUADS, cast, living
from tests.actions.table_help import select


async def test_the_list_is_empty_before_judging_and_names_every_squad_after(begin: Begin) -> None:
    found = await cast(begin)
    assert "nothing to mark yet" in (await living(found, ADA)).text
    await found.open()
    message = await living(found, ADA)
    assert "**0 of 3** done, 3 open" in message.text
    assert all(name in message.text for name in SQUADS)
    assert len(select(message).choices) == 3


async def test_the_squad_that_is_before_the_judge_now_comes_first(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    asking, ada = found.asking, await found.judge(ADA)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        last, middle = [squad.id for squad in await squads.squads(db, tryout.id)][:0:-1]
        slot = DaySlot(
            id=0, squad_id=last, kind="interview", event="bunting", judges=(ada.id,),
            begins_at=asking.now + timedelta(minutes=5), ends_at=asking.now + timedelta(minutes=15),
        )  # fmt: skip
        await day_timetable.replace_slots(db, tryout.id, [slot])
        run = Attempt(
            id=0, squad_id=middle, event="bunting", measure="run", number=1, seconds=Decimal(90), recorded_by=1,
            recorded_at=asking.now + timedelta(minutes=30),
        )  # fmt: skip
        await attempts.add_attempt(db, run)
    start, usual = asking.now, await asking.message("sheets.list", ADA, server_id=None)
    for minutes, first in ((5, f"Now: {SQUADS[2]}"), (20, "Next: "), (31, f"Now: {SQUADS[1]}"), (45, "Next: ")):
        asking.now = start + timedelta(minutes=minutes)
        shown = await asking.message("sheets.list", ADA, server_id=None)
        assert button_label(shown).startswith(first)
        assert ("Now: " in button_label(shown)) or button_label(shown) == button_label(usual)


def button_label(message: Message) -> str:
    return next(one.label for row in message.rows if isinstance(row, tuple) for one in row if one.style == "main")


async def test_no_message_of_a_judge_ever_holds_anothers_marks(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    await found.fill(ADA, "Crooked Spoons", {"reasons": 3, "theme": 3}, comment="A secret remark.")
    seen = [await living(found, BEN), await found.asking.message("sheets.list", BEN)]
    sheet = await found.sheet(BEN, "Crooked Spoons")
    seen.append(await found.asking.message("sheets.look", BEN, values=(str(sheet.id),)))
    assert all("secret" not in message.text and "seen often" not in message.text for message in seen)
    assert "**0 of 3** done" in seen[0].text


async def test_each_judge_meets_the_squads_in_another_order(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    orders = [tuple(sheet.squad_id for sheet in await found.sheets(who)) for who in (ADA, BEN, CY)]
    assert len(set(orders)) == 3
    assert orders[1] == orders[0][::-1]


async def test_a_long_list_is_paged_and_every_sheet_can_be_reached(begin: Begin) -> None:
    names = tuple(f"Squad with a rather long name no. {number}" for number in range(30))
    found = await cast(begin, people=(ADA,), names=names)
    await found.open()
    first = await living(found, ADA)
    assert len(first.text) <= 2000
    second = await found.asking.message(button(first, "Next page 2 of 2").key, ADA, server_id=None)
    shown = [choice.label for message in (first, second) for choice in select(message).choices]
    assert sorted(shown) == sorted(names)


async def test_next_says_so_when_nothing_is_left(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    for squad in SQUADS:
        await found.fill(ADA, squad, {"reasons": 1, "theme": 1})
    assert "no sheet left to mark" in (await found.asking.message("sheets.mark", ADA)).text
    assert "**All 3 done.** Thank you!" in (await living(found, ADA)).text
    assert isinstance(await found.asking.ask("sheets.mark", BEN), Open)
