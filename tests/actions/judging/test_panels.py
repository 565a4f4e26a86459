"""Who sees whom: computed, set by hand, changed half-way, and what stands in the way."""

from collections import Counter
from time import process_time

import pytest

from bot.actions.core.worker_thread import Outdated
from bot.actions.judging.open_judging import draw_panels, open_judging
from bot.actions.judging.sheets_follow_panels import assign_sheets
from storage.records.message import Message
from storage.tables import conflicts_of_interest, panels
from tests.actions.conftest import Begin, button
from tests.actions.judging_cast import ADA, BEN, CY, Cast, cast, enrol, squad_called
from tests.actions.table_help import select

DEE = 204
FOUR = (ADA, BEN, CY, DEE)
SIX = ("Crooked Spoons", "Muddy Teapots", "Sleepy Turnips", "Rainy Raisins", "Drowsy Buttons", "Idle Icicles")
SIZE, TABLE, COMPUTE = "panels.size:bunting:bunting", "panels.table:bunting:bunting", "panels.compute:bunting:bunting"


async def sized(begin: Begin, size: int = 2) -> Cast:
    found = await cast(begin, people=FOUR, names=SIX)
    await found.asking.message(SIZE, values=(str(size),))
    return found


async def seats(found: Cast) -> set[tuple[int, int]]:
    tryout = await found.asking.tryout()
    async with found.asking.store.read() as db:
        return {(one.squad_id, one.judge_id) for one in await panels.seats(db, tryout.id, "bunting", "bunting")}


async def set_by_hand(found: Cast, squad: str, *judges: int) -> Message:
    async with found.asking.store.read() as db:
        squad_id = await squad_called(db, squad)
    page = await found.asking.message("panels.squad:bunting:bunting", values=(str(squad_id),))
    picked = tuple([str((await found.judge(who)).id) for who in judges])
    return await found.asking.message(select(page).key, values=picked)


async def test_the_coach_picks_a_number_and_the_judges_are_shared_out_at_once(begin: Begin) -> None:
    found = await cast(begin, people=FOUR, names=SIX)
    everyone = await found.asking.message(TABLE)
    assert "Every judge sees every squad" in everyone.text
    table = await found.asking.message(select(everyone).key, values=("2",))
    assert "2 judges for each squad." in table.text
    assert "Perfectly balanced: any two judges have 1 squad in common." in table.text
    assert Counter(squad for squad, _ in await seats(found)).most_common()[-1][1] == 2
    assert set(Counter(judge for _, judge in await seats(found)).values()) == {3}


async def test_with_several_judged_parts_the_coach_picks_one_first(begin: Begin) -> None:
    found = await cast(begin, people=FOUR, names=SIX)
    asked = await found.asking.message("panels.panel")
    assert [choice.value for choice in select(asked).choices] == ["bunting/bunting", "chain/team"]
    table = await found.asking.message(select(asked).key, values=("chain/team",))
    assert "Who sees whom: Paper chain" in table.text


async def test_each_judge_gets_only_the_sheets_of_the_own_squads(begin: Begin) -> None:
    found = await sized(begin)
    await found.open()
    for who in FOUR:
        judge = await found.judge(who)
        assert {sheet.squad_id for sheet in await found.sheets(who)} == {
            squad for squad, seated in await seats(found) if seated == judge.id
        }
        assert sorted(sheet.position for sheet in await found.sheets(who)) == [1, 2, 3]


async def test_what_the_coach_sets_stays_when_the_rest_is_computed(begin: Begin) -> None:
    found = await sized(begin)
    table = await set_by_hand(found, "Idle Icicles", ADA, BEN)
    assert "**Idle Icicles**: Judge 201 (set), Judge 202 (set)" in table.text
    table = await set_by_hand(found, "Rainy Raisins", ADA)
    assert "**Too few judges:** Rainy Raisins (1)." in table.text
    table = await found.asking.message(button(table, "Compute the rest").key)
    assert "**Idle Icicles**: Judge 201 (set), Judge 202 (set)" in table.text
    assert "Too few" not in table.text
    assert set(Counter(judge for _, judge in await seats(found)).values()) == {3}
    table = await found.asking.message(button(table, "Let go of what I set").key)
    assert "(set)" not in table.text


async def test_what_stands_in_the_way_is_named_and_nothing_is_changed(begin: Begin) -> None:
    found = await sized(begin)
    before = await seats(found)
    for squad in ("Idle Icicles",):
        for who in (ADA, BEN):
            judge = await found.judge(who)
            async with found.asking.store.write() as db:
                await conflicts_of_interest.tie(db, judge.id, await squad_called(db, squad), "coach", found.asking.now)
    answer = await found.asking.message(SIZE, values=("3",))
    assert "cannot be shared out. Nothing was changed." in answer.text
    assert "only Judge 203 and Judge 204 may mark **Idle Icicles**" in answer.text
    assert await seats(found) == before
    assert "for each squad" in (await found.asking.message(TABLE)).text


async def test_a_panel_that_cannot_be_made_when_judging_opens_is_told_to_the_coach(begin: Begin) -> None:
    found = await cast(begin, people=(ADA, BEN, CY), names=SIX)
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        await panels.set_size(db, tryout.id, "bunting", "bunting", 5)
    await found.open()
    told = await found.asking.messages_to("office")
    assert any("each squad should be seen by 5, and there are only 3" in text for text in told)
    assert await found.sheets(ADA) == []
    await found.asking.message(SIZE, values=("2",))
    assert len(await found.sheets(ADA)) == 4


async def test_a_panel_nobody_computed_is_made_when_judging_opens(begin: Begin) -> None:
    found = await cast(begin, people=FOUR, names=SIX)
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        await panels.set_size(db, tryout.id, "bunting", "bunting", 2)
    await found.open()
    assert [len(await found.sheets(who)) for who in FOUR] == [3, 3, 3, 3]


async def test_sheets_that_were_begun_stay_with_their_judge_when_the_panel_is_computed_again(begin: Begin) -> None:
    found = await sized(begin)
    await found.open()
    begun = {}
    for who in FOUR:
        sheet = (await found.sheets(who))[0]
        await found.asking.message(f"sheets.save:{sheet.id}:0:0:1", who, fields={"level-reasons": "2"}, server_id=None)
        begun[(await found.judge(who)).id] = sheet.squad_id
    for size in ("3", "2"):
        await found.asking.message(SIZE, values=(size,))
        assert {(squad, judge) for judge, squad in begun.items()} <= await seats(found)
    for who in FOUR:
        assert any(sheet.marks == {"reasons": 2} for sheet in await found.sheets(who))
        assert len(await found.sheets(who)) == 3


async def test_a_new_judge_gets_squads_when_the_panel_is_computed_again(begin: Begin) -> None:
    found = await sized(begin)
    await found.open()
    await enrol(found.asking, 205)
    assert await found.sheets(205) == []
    table = await found.asking.message(COMPUTE)
    assert "**Too few" not in table.text
    assert len(await found.sheets(205)) in (2, 3)
    assert sum([len(await found.sheets(who)) for who in (*FOUR, 205)]) == 12


async def test_dealing_again_changes_nothing(begin: Begin) -> None:
    found = await sized(begin)
    await found.open()
    before = [await found.sheets(who) for who in FOUR]
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        await assign_sheets(db, tryout, found.asking.now)
    assert [await found.sheets(who) for who in FOUR] == before


async def test_going_back_to_all_judges_hands_out_the_rest(begin: Begin) -> None:
    found = await sized(begin)
    await found.open()
    table = await found.asking.message(SIZE, values=("0",))
    assert "Every judge sees every squad" in table.text
    assert [len(await found.sheets(who)) for who in FOUR] == [6, 6, 6, 6]
    assert "nothing to share out" in (await found.asking.message(COMPUTE)).text


async def test_a_judge_who_does_not_count_is_seated_only_by_hand(begin: Begin) -> None:
    found = await sized(begin)
    dee = await found.judge(DEE)
    await found.asking.message(f"judges.shown-only:{dee.id}")
    await found.asking.message(COMPUTE)
    assert dee.id not in {judge for _, judge in await seats(found)}
    await set_by_hand(found, "Idle Icicles", ADA, DEE)
    table = await found.asking.message(COMPUTE)
    assert "Judge 204 (set)" in table.text
    async with found.asking.store.read() as db:
        owls = await squad_called(db, "Idle Icicles")
    assert len([judge for squad, judge in await seats(found) if squad == owls]) == 3


async def test_twelve_judges_and_thirty_squads_are_shared_out_and_dealt_with_no_search_that_explodes(
    begin: Begin,
) -> None:
    names = tuple(f"Squad with quite a long name {number}" for number in range(30))
    people = tuple(range(201, 213))
    found = await cast(begin, people=people, names=names)
    start = process_time()
    table = await found.asking.message(SIZE, values=("4",))
    assert process_time() - start < 20, "by the processor; bench_panels says how long it takes"
    await found.open()
    assert [len(await found.sheets(who)) for who in people] == [10] * 12
    shown = table.text
    while onward := [one for row in table.rows if isinstance(row, tuple) for one in row if "Next page" in one.label]:
        table = await found.asking.message(onward[0].key)
        shown += table.text
    assert all(f"**{name}**" in shown for name in names)


async def test_only_a_coach_sees_or_changes_a_panel(begin: Begin) -> None:
    found = await sized(begin)
    for key in (TABLE, COMPUTE, SIZE, "panels.panel", "ties.panel"):
        assert "Only a coach" in (await found.asking.message(key, ADA, values=("2",))).text


async def test_judges_with_too_few_squads_in_common_are_named(begin: Begin) -> None:
    found = await cast(begin, people=FOUR, names=SIX[:4])
    table = await found.asking.message(SIZE, values=("2",))
    assert "fewer than 3 squads in common with other judges" in table.text
    table = await found.asking.message(SIZE, values=("3",))
    assert "fewer than 3" not in table.text


async def test_a_panel_that_was_drawn_for_other_judges_does_not_open_judging(begin: Begin) -> None:
    found = await cast(begin, people=FOUR, names=SIX)
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        await panels.set_size(db, tryout.id, "bunting", "bunting", 2)
        draw = await draw_panels(db, tryout)
    drawn = draw()
    await enrol(found.asking, 207)
    with pytest.raises(Outdated):
        async with found.asking.store.write() as db:
            await open_judging(db, tryout, found.asking.now, drawn)
    await found.open()
    assert sum([len(await found.sheets(who)) for who in (*FOUR, 207)]) == 12
