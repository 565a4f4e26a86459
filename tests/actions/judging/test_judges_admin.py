"""The coach enrols judges; judges agree before anything is sent to them."""

import pytest

from bot.actions.scoring.score_book import score_book
from bot.words.judging import conflicts_of_interest
from storage.records.request import Person
from storage.tables import squads as squads_table
from storage.tables import students
from tests.actions.conftest import Begin, button
from tests.actions.judging.test_close_judging import judged
from tests.actions.judging_cast import ADA, BEN, cast, enrol, squad_called
from tests.actions.scored import preview, whole
from tests.actions.table_help import labels


async def test_only_a_coach_enrols_judges(begin: Begin) -> None:
    asking = await begin("window")
    picked = (Person(id=ADA, name="Ada"),)
    assert "Only a coach" in (await asking.message("judges.add", 999, people=picked)).text
    assert "Only a coach" in (await asking.message("judges.panel", 999)).text


async def test_a_program_cannot_judge(begin: Begin) -> None:
    asking = await begin("window")
    answer = await asking.message("judges.add", people=(Person(id=9, name="Beep", program=True),))
    assert "a program, not a person" in answer.text


async def test_a_judge_added_while_judging_runs_gets_the_sheets_at_once(begin: Begin) -> None:
    found = await cast(begin, people=(ADA,))
    await found.open()
    await enrol(found.asking, BEN)
    assert len(await found.sheets(BEN)) == 3


async def test_a_judge_removed_half_way_counts_no_more_and_comes_back_with_the_marks(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    await found.fill(ADA, "Crooked Spoons", {"reasons": 3, "theme": 4})
    ada = await found.judge(ADA)
    sure = await found.asking.message(f"judges.remove:{ada.id}")
    assert "1 sheet handed in will be kept" in sure.text
    panel = await found.asking.message(button(sure, "Yes, remove").key)
    assert "Judge 201" not in panel.text
    refused = await found.asking.message("sheets.mark", ADA, server_id=None)
    assert "Only a judge of this try-out" in refused.text
    await enrol(found.asking, ADA)
    assert (await found.judge(ADA)).number == ada.number
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {"reasons": 3, "theme": 4}


async def test_marks_of_a_judge_of_weight_0_are_shown_and_not_counted(begin: Begin) -> None:
    found = await cast(begin)
    ada = await found.judge(ADA)
    page = await found.asking.message("judges.one", values=(str(ada.id),))
    page = await found.asking.message(button(page, "Show, do not count").key)
    assert "**not counted**" in page.text
    assert (await found.judge(ADA)).weight == 0
    await found.asking.message(button(page, "Let marks count").key)
    assert (await found.judge(ADA)).weight == 1


async def test_someone_who_is_in_a_squad_cannot_judge(begin: Begin) -> None:
    found = await cast(begin, people=())
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        student_id = await students.enter_student(db, tryout.id, BEN, "Ben", "7-A")
        student = await students.student(db, student_id)
        assert student is not None
        await students.seat(db, student, await squad_called(db, "Crooked Spoons"), found.asking.now)
    answer = await enrol(found.asking, ADA, BEN)
    assert "**Judge 202** is in the squad **Crooked Spoons**. Whoever takes part cannot judge" in answer.text
    assert await found.asking.messages_to("news") == []


@pytest.mark.parametrize("state", ["settled", "announced"])
async def test_once_totals_can_be_read_nobody_changes_alone_whose_marks_count(begin: Begin, state: str) -> None:
    asking, squads = await whole(begin, state="settled")
    if state == "announced":
        await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    before = (await preview(asking)).text
    async with asking.store.read() as db:
        first, second = [row["id"] for row in await db.rows("SELECT id FROM judge ORDER BY id")]
        taking_part = await squads_table.squads(db, 1)
    stamp = conflicts_of_interest.stamp_of(conflicts_of_interest.on_page(taking_part, 0), ())
    said = [
        (await asking.message(f"judges.shown-only:{first}")).text,
        (await asking.message(f"judges.removed:{second}")).text,
        (await asking.message(f"ties.set:{second}:0:{stamp}", values=(str(squads[0]),))).text,
    ]
    assert all(("Open judging again" if state == "settled" else "is over") in one for one in said)
    assert (await preview(asking)).text == before


async def test_two_coaches_who_do_not_want_a_judge_to_count_do_not_let_the_judge_count_again(begin: Begin) -> None:
    asking, _ = await whole(begin, state="judging")
    pages = [await asking.message("judges.one", values=("1",)) for _ in range(2)]
    for page in pages:
        await asking.ask(button(page, "Show, do not count").key)
    assert "Let marks count" in labels(await asking.message("judges.one", values=("1",)))


async def test_after_the_close_no_judge_who_was_removed_comes_back_with_marks(begin: Begin) -> None:
    found = await judged(begin)
    ben = await found.judge(BEN)
    await found.asking.message(f"judges.removed:{ben.id}")
    await found.asking.message("judging.closed")

    async def marks() -> int:
        async with found.asking.store.read() as db:
            return len((await score_book(db, await found.asking.tryout())).sheets)

    before = await marks()
    added = await found.asking.message("judges.add", people=(Person(id=BEN, name="Ben"),))
    assert "totals can be read by now" in added.text and "**Open judging again**" in added.text
    assert await marks() == before
