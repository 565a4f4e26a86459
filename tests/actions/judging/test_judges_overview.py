"""A coach sees who owes what: numbers of sheets and squads."""

from collections import Counter

from bot.actions.judging.sheet_queries import all_entries
from storage.records.scores import Absence
from storage.tables import absences
from tests.actions.conftest import Begin
from tests.actions.judging.test_close_judging import judged
from tests.actions.judging_cast import BEN, cast, squad_called


async def test_the_coach_sees_numbers_and_squads_and_never_a_mark(begin: Begin) -> None:
    found = await judged(begin, but=((BEN, "Muddy Teapots"),))
    status = await found.asking.message("judging.status")
    assert "**8 of 9 sheets** handed in." in status.text
    assert "Judge 202 owes 1: Muddy Teapots" in status.text
    assert "seen" not in status.text


async def test_a_squad_that_was_absent_is_owed_by_nobody(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        moles = await squad_called(db, "Muddy Teapots")
        await absences.set_absence(db, Absence(squad_id=moles, event="bunting", excused=True))
    async with found.asking.store.read() as db:
        owed = Counter(entry.sheet.judge_id for entry in await all_entries(db, tryout) if entry.owed)
        assert set(owed.values()) == {2}
