"""A coach sees who owes what: numbers of sheets and squads."""

from tests.actions.conftest import Begin
from tests.actions.judging.test_close_judging import judged
from tests.actions.judging_cast import BEN


async def test_the_coach_sees_numbers_and_squads_and_never_a_mark(begin: Begin) -> None:
    found = await judged(begin, but=((BEN, "Muddy Teapots"),))
    status = await found.asking.message("judging.status")
    assert "**8 of 9 sheets** handed in." in status.text
    assert "Judge 202 owes 1: Muddy Teapots" in status.text
    assert "seen" not in status.text
