"""A coach closes judging; what never came in is left out."""

import bot.actions.judging.reopen_after_close  # noqa: F401
from bot.actions.scoring.score_book import score_book
from bot.rules.scoring.standings import standings
from tests.actions.conftest import COACH, Begin, button
from tests.actions.judging_cast import ADA, BEN, CY, SQUADS, Cast, cast, squad_called

SECOND = 101
WHOLE = {"reasons": 3, "theme": 2}


async def judged(begin: Begin, but: tuple[tuple[int, str], ...] = ()) -> Cast:
    found = await cast(begin)
    await found.open()
    for who in (ADA, BEN, CY):
        for squad in SQUADS:
            if (who, squad) not in but:
                await found.fill(who, squad, WHOLE)
    return found


async def test_closing_names_what_is_missing_and_goes_on_only_when_told(begin: Begin) -> None:
    found = await judged(begin, but=((BEN, "Muddy Teapots"),))
    sure = await found.asking.message("judging.close")
    assert "- Judge 202 owes 1: Muddy Teapots" in sure.text
    assert "- Paper chain has not been opened for judging" in sure.text
    assert (await found.asking.tryout()).state == "judging"
    closed = await found.asking.message(button(sure, "Close anyway").key)
    assert "1 sheet did not come in" in closed.text
    assert (await found.asking.tryout()).state == "settled"


async def test_a_sheet_that_never_came_is_left_out_and_is_no_zero(begin: Begin) -> None:
    found = await judged(begin, but=((BEN, "Muddy Teapots"),))
    await found.asking.message("judging.closed")
    tryout = await found.asking.tryout()
    async with found.asking.store.read() as db:
        book = await score_book(db, tryout)
        moles = await squad_called(db, "Muddy Teapots")
    row = next(row for row in standings(book).unranked if row.squad_id == moles)
    bunting = next(event for event in row.events if event.key == "bunting")
    assert bunting.measures[0].value == 3 * 2 + 2
    assert len(bunting.measures[0].sheets) == 2


async def test_after_the_close_a_form_that_was_open_is_refused_and_its_marks_are_told_back(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    sheet = await found.sheet(ADA, "Crooked Spoons")
    form = await found.asking.form(f"sheets.mark:{sheet.id}", ADA, server_id=None)
    await found.asking.message("judging.closed")
    answer = await found.submit(ADA, form, {"reasons": 4, "theme": 1})
    assert "no longer yours to mark. You had entered: Written reasons 4 and Fits the theme 1." in answer.text
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {}


async def test_after_the_close_a_done_sheet_cannot_be_changed(begin: Begin) -> None:
    found = await judged(begin)
    sheet = await found.sheet(ADA, "Crooked Spoons")
    form = await found.asking.form(f"sheets.mark:{sheet.id}", ADA, server_id=None)
    await found.asking.message("judging.closed")
    answer = await found.submit(ADA, form, {"reasons": 1}, "They *explained* it well. " * 36)
    assert "nothing was saved. You had entered: Written reasons 1 and Fits the theme 2." in answer.text
    assert "They \\*explained\\* it well. " * 35 in answer.text, "a comment is given back, too"
    assert "closed" in (await found.asking.message(f"sheets.mark:{sheet.id}", ADA, server_id=None)).text
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == WHOLE


async def test_judging_cannot_be_closed_before_it_has_begun(begin: Begin) -> None:
    found = await cast(begin)
    assert "too early" in (await found.asking.message("judging.closed")).text
    assert (await found.asking.tryout()).state == "window"


async def test_a_coach_who_judges_closes_judging_only_once_the_own_sheets_are_in(begin: Begin) -> None:
    found = await cast(begin, people=(ADA, COACH))
    await found.open()
    first = "You judge, too, and still owe 3 sheets"
    assert first in (await found.asking.message("judging.close")).text
    assert first in (await found.asking.message("judging.closed")).text
    assert "still have 3 score sheets of your own" in (await found.asking.message("judging.gaps")).text
    assert "**Your own sheets first.**" in (await found.asking.message("results.panel")).text
    assert "**Missing:**" in (await found.asking.message("judging.close", SECOND, manages_server=True)).text
    for squad in SQUADS:
        await found.fill(COACH, squad, WHOLE)
    assert "**Missing:**" in (await found.asking.message("judging.close")).text
