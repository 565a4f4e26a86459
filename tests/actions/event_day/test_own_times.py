"""What a squad reads of its own times."""

from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import made, slots
from tests.actions.practice_cast import card_text


async def test_a_squad_reads_that_it_is_called_to_its_runs_and_not_to_an_interview(begin: Begin) -> None:
    asking = await made(begin)
    squad = (await slots(asking, "interview"))[0].squad_id
    text = await card_text(asking, f"day/{squad}")
    assert "You are called here when it is nearly your turn to run" in text
    assert "Nobody is called to an interview" in text


async def test_without_interviews_nothing_is_said_about_them(begin: Begin) -> None:
    asking = await made(begin, judges=0)
    text = await card_text(asking, f"day/{(await slots(asking))[0].squad_id}")
    assert "You are called here" in text and "interview" not in text
