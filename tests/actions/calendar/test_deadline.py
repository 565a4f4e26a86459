"""The deadline: the window ends, by day, and judging begins."""

from datetime import timedelta

from tests.actions.conftest import Begin
from tests.actions.office_cast import DAY, DEADLINE, off_until, planned, until, window


async def test_a_deadline_missed_at_night_is_announced_in_the_morning(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await off_until(asking, DEADLINE + timedelta(hours=8))  # 23:30 in New York
    assert not any("The time is up" in text for text in await asking.messages_to("news"))
    await until(asking, DEADLINE + timedelta(hours=16))
    assert sum("The time is up" in text for text in await asking.messages_to("news")) == 1
    assert (await asking.tryout()).state == "judging"


async def test_a_bot_that_is_off_night_after_night_still_ends_the_window_by_day(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    for night in range(3):
        await off_until(asking, DEADLINE + timedelta(hours=8) + night * DAY)
    assert (await asking.tryout()).state == "window"
    await until(asking, asking.now + timedelta(hours=8))
    assert (await asking.tryout()).state == "judging"


async def test_the_window_ends_and_judging_begins(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await until(asking, DEADLINE)
    assert (await asking.tryout()).state == "judging"
    assert "The time is up" in (await asking.messages_to("news"))[-1]
    assert any("judging begins" in text for text in await asking.messages_to("office"))
    assert {row.state for row in await planned(asking, "chase")} == {"waiting"}
