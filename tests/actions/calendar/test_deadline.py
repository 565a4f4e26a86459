"""The deadline: the window ends, by day, and judging begins."""

from datetime import UTC, datetime, timedelta

from tests.actions.conftest import Asking, Begin
from tests.actions.office_cast import make_squad, off_until, planned, until

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)  # 15:30 in New York
DEADLINE = datetime(2027, 1, 21, 20, 30, tzinfo=UTC)
DAY = timedelta(days=1)


async def window(begin: Begin, **changes: object) -> tuple[Asking, int, int]:
    """A window that has just opened: one squad that owes nothing once it has read, and one that is too small."""
    asking = await begin("drafting", **changes)
    await asking.confirm("signup.open")
    whole = await make_squad(asking, 1, 3, "Crooked Spoons")
    small = await make_squad(asking, 11, 2, "Muddy Teapots")
    await until(asking, BRIEF)
    for who in (1, 2, 3):
        await asking.ask("brief.page:9", who)
    return asking, whole, small


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
