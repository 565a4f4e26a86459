"""After the close: only the coach opens a sheet again, with a reason, and every version is kept."""

from datetime import timedelta

import pytest

import bot.actions.judging.reopen_after_close  # noqa: F401
from bot.actions.results.listed_changes import plan_changes
from bot.actions.scoring.score_book import score_book
from bot.rules.scoring.standings import standings
from storage.records.message import Message
from tests.actions.conftest import COACH, Asking, Begin, button
from tests.actions.judging.test_close_judging import WHOLE, judged
from tests.actions.judging_cast import ADA, BEN, CY, Cast, cast, living, long_rubric, squad_called
from tests.actions.scored import whole
from tests.actions.table_help import select

REASON = {"reason": "Two lines were mixed up."}
SECOND = 101
"""A second coach."""


async def closed(begin: Begin) -> Cast:
    """Judging is closed; one sheet never came."""
    found = await judged(begin, but=((BEN, "Muddy Teapots"),))
    await found.asking.message("judging.closed")
    return found


async def reopen(found: Cast, who: int, squad: str) -> Message:
    judge = await found.judge(who)
    page = await found.asking.message("judges.one", values=(str(judge.id),))
    picking = await found.asking.message(button(page, "Open a sheet again").key)
    [choice] = [one for one in select(picking).choices if one.label == squad]
    form = await found.asking.form(select(picking).key, values=(choice.value,))
    assert form.fields[0].label == "Why is it opened again?"
    asked = await found.asking.message(form.key, fields=REASON)
    return await agree(found, asked)


async def agree(found: Cast, asked: Message, who: int = SECOND) -> Message:
    return await found.asking.message(button(asked, "Agree: open it again").key, who, manages_server=True)


async def test_the_coach_opens_a_sheet_again_and_the_judge_is_told_why(begin: Begin) -> None:
    found = await closed(begin)
    assert "is open again. They have been told." in (await reopen(found, ADA, "Crooked Spoons")).text
    told = (await found.asking.messages_to(f"judge/{(await found.judge(ADA)).id}"))[-1]
    assert "opened your sheet for **Crooked Spoons** again: Two lines were mixed up." in told
    assert button(await living(found, ADA), "Look again: Crooked Spoons, Bunting").style == "main"


async def test_the_judge_changes_just_that_sheet_and_it_closes_with_saving(begin: Begin) -> None:
    found = await closed(begin)
    await reopen(found, ADA, "Crooked Spoons")
    other = await found.sheet(ADA, "Muddy Teapots")
    assert "closed" in (await found.asking.message(f"sheets.mark:{other.id}", ADA, server_id=None)).text
    await found.fill(ADA, "Crooked Spoons", {"reasons": 1})
    sheet = await found.sheet(ADA, "Crooked Spoons")
    assert (sheet.marks, sheet.state, sheet.version) == ({"reasons": 1, "theme": 2}, "submitted", 2)
    assert "closed" in (await found.asking.message(f"sheets.mark:{sheet.id}", ADA, server_id=None)).text
    async with found.asking.store.read() as db:
        rows = await db.rows("SELECT marks_json FROM sheet_version WHERE sheet_id = ? ORDER BY version", sheet.id)
        reason = await db.value("SELECT reason FROM reopening WHERE sheet_id = ?", sheet.id)
    assert [row[0] for row in rows] == ['{"reasons": 3, "theme": 2}', '{"reasons": 1, "theme": 2}']
    assert reason == REASON["reason"]


async def test_saving_it_unchanged_closes_it_too(begin: Begin) -> None:
    found = await closed(begin)
    await reopen(found, ADA, "Crooked Spoons")
    await found.fill(ADA, "Crooked Spoons", {})
    sheet = await found.sheet(ADA, "Crooked Spoons")
    assert sheet.version == 1
    assert "closed" in (await found.asking.message(f"sheets.mark:{sheet.id}", ADA, server_id=None)).text


async def test_a_sheet_that_never_came_can_still_come(begin: Begin) -> None:
    found = await closed(begin)
    await reopen(found, BEN, "Muddy Teapots")
    tryout = await found.asking.tryout()
    async with found.asking.store.read() as db:
        moles = await squad_called(db, "Muddy Teapots")
        gaps = next(row for row in standings(await score_book(db, tryout)).unranked if row.squad_id == moles).gaps
    assert "open_sheet" in [gap.kind for gap in gaps]
    await found.fill(BEN, "Muddy Teapots", WHOLE)
    assert (await found.sheet(BEN, "Muddy Teapots")).state == "submitted"


async def test_the_coach_can_close_it_again_without_the_judge(begin: Begin) -> None:
    found = await closed(begin)
    await reopen(found, BEN, "Muddy Teapots")
    judge = await found.judge(BEN)
    picking = await found.asking.message("judging.pick-sheet", values=(str(judge.id),))
    [choice] = [one for one in select(picking).choices if "open again now" in one.note]
    sure = await found.asking.message(select(picking).key, values=(choice.value,))
    said = await found.asking.message(button(sure, "Close this sheet").key)
    assert said.text.endswith("is closed again. They have been told.")
    told = (await found.asking.messages_to(f"judge/{judge.id}"))[-1]
    assert "closed your sheet for **Muddy Teapots** again" in told and told.endswith("not whole, so it is left out.")
    assert (await found.sheet(BEN, "Muddy Teapots")).state == "recused"
    assert "closed already" in (await found.asking.message(button(sure, "Close this sheet").key)).text


async def test_a_judge_whose_whole_sheet_is_closed_by_the_coach_reads_that_it_stays(begin: Begin) -> None:
    found = await closed(begin)
    await reopen(found, ADA, "Crooked Spoons")
    sheet = await found.sheet(ADA, "Crooked Spoons")
    await found.asking.message(f"judging.shut:{sheet.id}")
    told = (await found.asking.messages_to(f"judge/{sheet.judge_id}"))[-1]
    assert "closed your sheet for **Crooked Spoons** again" in told and told.endswith("It stays as you have saved it.")
    assert (await found.sheet(ADA, "Crooked Spoons")).state == "submitted"


async def test_without_a_reason_nothing_is_opened(begin: Begin) -> None:
    found = await closed(begin)
    sheet = await found.sheet(ADA, "Crooked Spoons")
    answer = await found.asking.message(f"judging.reopen:{sheet.id}", fields={"reason": "  so  "})
    assert "say why" in answer.text
    assert "closed" in (await found.asking.message(f"sheets.mark:{sheet.id}", ADA, server_id=None)).text


async def test_opening_it_twice_is_refused(begin: Begin) -> None:
    found = await closed(begin)
    await reopen(found, ADA, "Crooked Spoons")
    sheet = await found.sheet(ADA, "Crooked Spoons")
    assert "open again already" in (await found.asking.message(f"judging.reopen:{sheet.id}", fields=REASON)).text


async def test_while_judging_runs_there_is_nothing_to_open_again(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    sheet = await found.sheet(ADA, "Crooked Spoons")
    assert "not closed" in (await found.asking.message(f"judging.reopen:{sheet.id}", fields=REASON)).text
    assert "Only a coach" in (await found.asking.message(f"judging.reopen:{sheet.id}", ADA, fields=REASON)).text


async def test_every_part_of_a_long_sheet_can_be_looked_at_again_before_it_closes(begin: Begin) -> None:
    found = await cast(begin, events=(long_rubric(6),))
    await found.open()
    sheet = await found.sheet(ADA, "Crooked Spoons")
    for number in (0, 1):
        form = await found.asking.form(f"sheets.step:{sheet.id}:{number}", ADA, server_id=None)
        await found.submit(ADA, form, {f"c{line}": 1 for line in range(6)})
    await found.asking.message("judging.closed")
    await reopen(found, ADA, "Crooked Spoons")
    more = await found.fill(ADA, "Crooked Spoons", {"c0": 3})
    assert "Is there more to change?" in more.text
    form = await found.asking.form(button(more, "Look at part 2").key, ADA, server_id=None)
    await found.submit(ADA, form, {"c5": 4})
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {"c0": 3, "c1": 1, "c2": 1, "c3": 1, "c4": 1, "c5": 4}
    assert "closed" in (await found.asking.message(f"sheets.mark:{sheet.id}", ADA, server_id=None)).text
    await reopen(found, ADA, "Crooked Spoons")
    more = await found.fill(ADA, "Crooked Spoons", {"c0": 2})
    await found.asking.message(button(more, "That was all").key, ADA, server_id=None)
    assert "closed" in (await found.asking.message(f"sheets.mark:{sheet.id}", ADA, server_id=None)).text


async def test_what_was_seen_is_opened_again_by_two_coaches_or_by_one_who_has_waited(begin: Begin) -> None:
    found = await closed(begin)
    form = await found.asking.form("judging.resume")
    assert "say why" in (await found.asking.message(form.key, fields={"reason": " "})).text
    asked = await found.asking.message(form.key, fields=REASON)
    assert asked.text.startswith("Judging is to be opened again")
    (office,) = [text for text in await found.asking.messages_to("office") if "is to be opened again" in text]
    assert REASON["reason"] in office
    alone = int((found.asking.now + timedelta(minutes=10)).timestamp())
    assert f"the coach who asked can do so alone from <t:{alone}:t> on" in office
    assert "You have asked for this yourself" in (await agree(found, asked, COACH)).text
    assert (await found.asking.tryout()).state == "settled"
    found.asking.now += timedelta(minutes=10)
    opened = (await agree(found, asked, COACH)).text
    assert "Judging is open again" in opened and "I send them no message about it" in opened
    assert (await found.asking.tryout()).state == "judging"
    assert "out of date" in (await agree(found, asked)).text, "it was agreed to once"


async def test_a_second_coach_agrees_at_once_and_the_result_lists_it(begin: Begin) -> None:
    found = await closed(begin)
    form = await found.asking.form("judging.resume")
    asked = await found.asking.message(form.key, fields=REASON)
    assert "Judging is open again" in (await agree(found, asked)).text
    tryout = await found.asking.tryout()
    async with found.asking.store.read() as db:
        (change,) = await plan_changes(db, tryout)
    assert (change.what, change.reason) == (("judging was opened again",), REASON["reason"])


async def announced_and_taken_back(asking: Asking) -> None:
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    await asking.ask("results.taken-back", fields={"reason": "One count was wrong"})
    assert (await asking.tryout()).state == "settled"


@pytest.mark.parametrize("announced_before", [0, 1])
async def test_what_was_asked_before_an_announcement_is_not_opened_after_it_was_taken_back(
    begin: Begin, announced_before: int
) -> None:
    """Who has waited for ten minutes days ago would otherwise open it alone, at once."""
    asking, _ = await whole(begin)
    for _ in range(announced_before):
        await announced_and_taken_back(asking)
    asked = await asking.message("judging.resume-asked", fields=REASON)
    await announced_and_taken_back(asking)
    asking.now += timedelta(days=1)
    agreeing = button(asked, "Agree: open it again").key
    for who in (COACH, SECOND):
        assert "out of date" in (await asking.message(agreeing, who, manages_server=True)).text
    again = button(await asking.message("judging.resume-asked", fields=REASON), "Agree: open it again").key
    assert "Judging is open again" in (await asking.message(again, SECOND, manages_server=True)).text


async def test_what_was_asked_before_judging_was_closed_once_more_is_not_opened(begin: Begin) -> None:
    found = await closed(begin)
    asked = [await found.asking.message("judging.resume-asked", fields=REASON) for _ in range(2)]
    assert "Judging is open again" in (await agree(found, asked[0])).text
    await found.asking.message("judging.closed")
    assert "out of date" in (await agree(found, asked[1])).text


async def test_when_all_of_judging_is_closed_once_more_no_single_sheet_stays_open(begin: Begin) -> None:
    found = await judged(begin)
    await found.asking.message("judging.closed")
    await reopen(found, ADA, "Crooked Spoons")
    form = await found.asking.form("judging.resume")
    await agree(found, await found.asking.message(form.key, fields=REASON))
    assert "cannot change anything now" in (await found.asking.message("judging.closed")).text
    sheet = await found.sheet(ADA, "Crooked Spoons")
    assert "closed" in (await found.asking.message(f"sheets.mark:{sheet.id}", ADA, server_id=None)).text


async def test_nothing_is_announced_while_a_sheet_is_open_again_and_none_is_afterwards(begin: Begin) -> None:
    asking, _ = await whole(begin)
    async with asking.store.read() as db:
        judge = await db.value("SELECT platform_id FROM judge WHERE number = 1")
    preview = await asking.message("results.announce")
    asked = await asking.message("judging.reopen:1", fields=REASON)
    await asking.message(button(asked, "Agree: open it again").key, SECOND, manages_server=True)
    waits = (await asking.message("results.announce")).text
    assert "- Open again: the sheet of Judge 1 for **Crooked Spoons**." in waits
    refused = (await asking.message(button(preview, "Announce now").key)).text
    assert "Something is missing before the announcement" in refused
    await asking.message("judging.shut:1")
    said = await asking.message(button(await asking.message("results.announce"), "Announce now").key)
    assert said.text.startswith("Announced.")
    async with asking.store.write() as db:
        await db.run("UPDATE reopening SET done_at = NULL")
    late = await asking.message("sheets.mark:1", judge, server_id=None)
    assert "closed" in late.text, "also where an older version announced all the same"


async def test_judging_that_goes_on_gives_back_the_sheets_that_were_let_go(begin: Begin) -> None:
    found = await judged(begin, but=((BEN, "Muddy Teapots"), (CY, "Crooked Spoons")))
    await found.fill(CY, "Crooked Spoons", {"reasons": 4})
    closed = await found.asking.message("judging.closed")
    form = await found.asking.form(button(closed, "Open judging again").key)
    asked = await found.asking.message(form.key, fields={"reason": "Two sheets came late."})
    await found.asking.message(button(asked, "Agree: open it again").key, 101, manages_server=True)
    assert (await found.asking.tryout()).state == "judging"
    assert (await found.sheet(BEN, "Muddy Teapots")).state == "open"
    assert (await found.sheet(CY, "Crooked Spoons")).state == "started"
    await found.fill(BEN, "Muddy Teapots", WHOLE)
