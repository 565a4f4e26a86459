"""Ties of interest: a judge steps back without saying why, and another takes over."""

from collections import Counter

from storage.records.judging import TieOfInterest
from storage.tables import conflicts_of_interest, students
from tests.actions.conftest import Begin, button
from tests.actions.judging.test_panels import FOUR, SIX, SIZE, seats, sized
from tests.actions.judging_cast import ADA, BEN, CY, Cast, cast, squad_called
from tests.actions.table_help import labels, select

WHOLE = {"reasons": 3, "theme": 2}


async def ties(found: Cast) -> list[TieOfInterest]:
    tryout = await found.asking.tryout()
    async with found.asking.store.read() as db:
        return await conflicts_of_interest.ties(db, tryout.id)


async def step_back(found: Cast, who: int, squad: str) -> str:
    async with found.asking.store.read() as db:
        squad_id = await squad_called(db, squad)
    asked = await found.asking.message("sheets.tie", who, server_id=None)
    sure = await found.asking.message(select(asked).key, who, values=(str(squad_id),), server_id=None)
    return (await found.asking.message(button(sure, "Yes, step back").key, who, server_id=None)).text


async def set_ties(found: Cast, who: int, *squads: str) -> str:
    judge = await found.judge(who)
    page = await found.asking.message("ties.judge", values=(str(judge.id),))
    async with found.asking.store.read() as db:
        picked = tuple([str(await squad_called(db, squad)) for squad in squads])
    return (await found.asking.message(select(page).key, values=picked)).text


async def test_a_judge_who_steps_back_marks_that_squad_no_more_and_the_coach_is_told(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    assert "You do not mark **Crooked Spoons**" in await step_back(found, ADA, "Crooked Spoons")
    sheet = await found.sheet(ADA, "Crooked Spoons")
    assert sheet.state == "recused"
    refused = await found.asking.message(f"sheets.mark:{sheet.id}", ADA, server_id=None)
    assert "no longer yours to mark" in refused.text
    assert "knows someone in **Crooked Spoons** and does not mark it." in (await found.asking.messages_to("office"))[-1]
    assert "**0 of 2** done" in (await found.asking.message("sheets.list", ADA)).text


async def test_a_sheet_that_was_set_aside_is_not_counted_as_handed_in_anywhere(begin: Begin) -> None:
    found = await cast(begin, (ADA, BEN))
    await found.open()
    sheets = len(await found.sheets(ADA)) + len(await found.sheets(BEN))
    assert f"Score sheets handed in: 0 of {sheets}" in (await found.asking.message("office")).text
    await step_back(found, ADA, "Crooked Spoons")
    assert f"Score sheets handed in: 0 of {sheets - 1}" in (await found.asking.message("office")).text
    assert f"**0 of {sheets - 1} sheets** handed in" in (await found.asking.message("judging.status")).text


async def test_stepping_back_before_judging_opens_means_there_is_never_a_sheet(begin: Begin) -> None:
    found = await cast(begin)
    await step_back(found, ADA, "Crooked Spoons")
    await found.open()
    assert len(await found.sheets(ADA)) == 2
    assert len(await found.sheets(BEN)) == 3


async def test_marks_made_before_stepping_back_are_kept_and_count_no_more(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    await found.fill(ADA, "Crooked Spoons", {"reasons": 4})
    await step_back(found, ADA, "Crooked Spoons")
    sheet = await found.sheet(ADA, "Crooked Spoons")
    assert (sheet.state, sheet.marks, sheet.version) == ("recused", {"reasons": 4}, 2)


async def test_after_handing_in_only_the_coach_can_take_a_sheet_out(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    await found.fill(ADA, "Crooked Spoons", WHOLE)
    asked = await found.asking.message("sheets.tie", ADA)
    assert "Crooked Spoons" not in [choice.label for choice in select(asked).choices]
    async with found.asking.store.read() as db:
        squad_id = await squad_called(db, "Crooked Spoons")
    refused = await found.asking.message(f"sheets.tied:{squad_id}", ADA)
    assert "handed in your sheet for **Crooked Spoons** already" in refused.text
    await set_ties(found, ADA, "Crooked Spoons")
    assert (await found.sheet(ADA, "Crooked Spoons")).state == "recused"


async def test_a_tie_taken_away_gives_the_sheet_back_as_it_was(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    await found.fill(ADA, "Crooked Spoons", WHOLE)
    assert "Crooked Spoons, Muddy Teapots" in await set_ties(found, ADA, "Crooked Spoons", "Muddy Teapots")
    assert "No judge knows anybody so far." in await set_ties(found, ADA)
    assert (await found.sheet(ADA, "Crooked Spoons")).state == "submitted"
    assert (await found.sheet(ADA, "Muddy Teapots")).state == "open"
    assert await ties(found) == []


async def test_in_a_panel_the_judge_with_the_fewest_squads_takes_over_and_is_told(begin: Begin) -> None:
    found = await sized(begin)
    await found.open()
    sheet = (await found.sheets(ADA))[0]
    [squad] = [name for name in SIX if await found.sheet_or_none(ADA, name) == sheet]
    await step_back(found, ADA, squad)
    assert Counter(squad for squad, _ in await seats(found))[sheet.squad_id] == 2
    assert (sheet.squad_id, (await found.judge(ADA)).id) not in await seats(found)
    [instead] = [who for who in FOUR if len([one for one in await found.sheets(who) if one.state == "open"]) == 4]
    told = await found.asking.messages_to(f"judge/{(await found.judge(instead)).id}")
    assert told[-1].startswith(f"📝 One more squad for you: **{squad}**.")
    assert f"Judge {instead} takes over." in (await found.asking.messages_to("office"))[-1]


async def test_who_takes_over_several_squads_of_a_judge_is_told_once_and_knows_none_of_them(begin: Begin) -> None:
    found = await sized(begin)
    await found.open()
    mine = [name for name in SIX if await found.sheet_or_none(ADA, name)]
    await set_ties(found, CY, *mine)
    rooms = [f"judge/{(await found.judge(who)).id}" for who in FOUR]
    before = [len(await found.asking.messages_to(room)) for room in rooms]
    await set_ties(found, ADA, *mine)
    assert not {(one.squad_id, one.judge_id) for one in await ties(found)} & await seats(found)
    new = [(await found.asking.messages_to(room))[sofar:] for room, sofar in zip(rooms, before, strict=True)]
    assert max(map(len, new)) == 1
    assert any("2 more squads for you: **" in text for texts in new for text in texts)


async def test_when_nobody_is_free_the_coach_hears_it(begin: Begin) -> None:
    found = await sized(begin)
    await found.open()
    for who in (BEN, CY, 204):
        await set_ties(found, who, "Idle Icicles")
    text = await set_ties(found, ADA, "Idle Icicles")
    assert "**No other judge is free for it**" in text
    async with found.asking.store.read() as db:
        assert await squad_called(db, "Idle Icicles") not in {squad for squad, _ in await seats(found)}


async def test_a_computed_panel_never_seats_a_tied_judge(begin: Begin) -> None:
    found = await sized(begin)
    await set_ties(found, ADA, "Idle Icicles", "Crooked Spoons")
    await set_ties(found, BEN, "Muddy Teapots")
    await found.asking.message(SIZE, values=("2",))
    tied = {(one.squad_id, one.judge_id) for one in await ties(found)}
    assert len(tied) == 3 and not tied & await seats(found)


async def test_saying_it_twice_is_kindly_refused_and_nobody_hears_why(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    await step_back(found, ADA, "Crooked Spoons")
    async with found.asking.store.read() as db:
        squad_id = await squad_called(db, "Crooked Spoons")
        columns = {row["name"] for row in await db.rows("SELECT name FROM pragma_table_info('conflict_of_interest')")}
    assert "noted already" in (await found.asking.message(f"sheets.tied:{squad_id}", ADA)).text
    assert columns == {"judge_id", "squad_id", "set_by", "at"}


async def test_ties_of_thirty_squads_are_set_page_by_page(begin: Begin) -> None:
    names = tuple(f"Squad {number}" for number in range(30))
    found = await cast(begin, names=names)
    ada = await found.judge(ADA)
    await set_ties(found, ADA, "Squad 3")
    second = await found.asking.message(f"ties.judge:1:{ada.id}")
    assert [choice.label for choice in select(second).choices] == list(names[25:])
    await found.asking.message(select(second).key, values=(select(second).choices[0].value,))
    assert len(await ties(found)) == 2


async def test_what_a_judge_has_declared_meanwhile_is_not_undone_by_an_older_list(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    judge = await found.judge(ADA)
    page = await found.asking.message("ties.judge", values=(str(judge.id),))
    await step_back(found, ADA, "Crooked Spoons")
    async with found.asking.store.read() as db:
        other = str(await squad_called(db, "Muddy Teapots"))
    now = await found.asking.message(select(page).key, values=(other,))
    assert "so nothing was set" in now.text
    assert [(tie.judge_id, tie.set_by) for tie in await ties(found)] == [(judge.id, "judge")]
    assert [choice.label for choice in select(now).choices if choice.chosen] == ["Crooked Spoons"]
    assert (
        "no longer yours"
        in (
            await found.asking.message(
                f"sheets.mark:{(await found.sheet(ADA, 'Crooked Spoons')).id}", ADA, server_id=None
            )
        ).text
    )


async def test_once_judging_is_closed_nobody_steps_back_and_no_stand_in_gets_a_sheet(begin: Begin) -> None:
    found = await sized(begin)
    await found.open()
    squad = (await found.sheets(ADA))[0].squad_id
    assert "I know someone in a squad" in labels(await found.asking.message("sheets.list", ADA, server_id=None))
    await found.asking.message("judging.closed")
    before = await seats(found)
    for pressed in ("sheets.tie", f"sheets.tie-ask:{squad}", f"sheets.tied:{squad}"):
        assert "Judging is closed" in (await found.asking.message(pressed, ADA, server_id=None)).text, pressed
    assert await seats(found) == before and not await ties(found)
    assert "I know someone in a squad" not in labels(await found.asking.message("sheets.list", ADA, server_id=None))


async def test_a_judge_who_joins_a_squad_later_is_never_given_that_squad(begin: Begin) -> None:
    found = await cast(begin)
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        student = await students.student(db, await students.enter_student(db, tryout.id, BEN, "Ben", "7-A"))
        assert student is not None
        await students.seat(db, student, await squad_called(db, "Crooked Spoons"), found.asking.now)
    await found.open()
    assert await found.sheet_or_none(BEN, "Crooked Spoons") is None
    assert len(await found.sheets(BEN)) == 2 and len(await found.sheets(ADA)) == 3
