"""Each squad books its share first, then what is left over, on a real database."""

from datetime import timedelta

from storage.records.message import Select
from tests.actions.conftest import Begin, button
from tests.actions.office_cast import planned, until
from tests.actions.practice_cast import DAY, FIRST, HOUR, PRACTICE, SECOND, book, card, card_text, seconds, window


async def test_each_squad_has_its_share_then_the_pool_and_squads_with_fewer_first(begin: Begin) -> None:
    asking, comets, _ = await window(begin, practice=PRACTICE.model_copy(update={"turns": 1}))
    assert "Booked" in await book(asking, 1, FIRST)
    assert "may book 1 first" in await book(asking, 1, SECOND + DAY)
    assert "cannot book a turn right now. You can book from <t:" in (await asking.message("practice.book", 1)).text
    off = await card(asking, f"practice/{comets}")
    assert off is not None and button(off, "Book a turn").disabled and "You can book from <t:" in off.text
    opens = min(job.at for job in await planned(asking, "practice-opens") if job.state == "waiting")
    assert f"<t:{seconds(opens)}:F>" in off.text
    await until(asking, opens + timedelta(minutes=1))
    on = await card(asking, f"practice/{comets}")
    assert on is not None and not button(on, "Book a turn").disabled
    assert "You may book one that is left over." in on.text
    assert isinstance((await asking.message("practice.book", 1)).rows[0], Select)
    await until(asking, SECOND + DAY - 20 * HOUR)
    assert "fewer turns come first" in await book(asking, 1, SECOND + DAY)
    await until(asking, SECOND + DAY - 18 * HOUR)
    assert "Booked" in await book(asking, 1, SECOND + DAY)
    assert "have booked your share" in await card_text(asking, f"practice/{comets}")
