"""What the checks of practice turns share: a window with two squads, and what they press and see."""

from datetime import UTC, datetime, time, timedelta
from typing import Any

from bot.actions.core.live_messages import compose
from storage.records.message import Message
from storage.records.plan import Practice
from tests.actions.conftest import Asking, Begin
from tests.actions.office_cast import make_squad, until

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)  # 15:30 in New York
FIRST = datetime(2027, 1, 12, 17, 10, tzinfo=UTC)  # 12:10 on day 1
SECOND = datetime(2027, 1, 12, 20, 40, tzinfo=UTC)  # 15:40
DAY, HOUR = timedelta(days=1), timedelta(hours=1)
PRACTICE = Practice(times=(time(12, 10), time(15, 40)))
TURNS = 15
"""Eight school days in ten calendar days, 15 January 2027 being a Friday; the last 15:40 is after the deadline."""


async def window(begin: Begin, **changes: Any) -> tuple[Asking, int, int]:
    """A window that has just opened, with two squads: students 1 to 3, and 11 to 13."""
    asking = await begin("drafting", **({"practice": PRACTICE} | changes))
    await asking.confirm("signup.open")
    comets = await make_squad(asking, 1, 3, "Crooked Spoons")
    moles = await make_squad(asking, 11, 3, "Muddy Teapots")
    await until(asking, BRIEF)
    return asking, comets, moles


async def book(asking: Asking, who: int, at: datetime) -> str:
    return (await asking.message("practice.booked", who, values=(str(int(at.timestamp())),))).text


async def give(asking: Asking, who: int, at: datetime) -> str:
    return (await asking.message("practice.given", who, values=(str(int(at.timestamp())),))).text


async def card(asking: Asking, key: str) -> Message | None:
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        return await compose(db, tryout, key)


async def card_text(asking: Asking, key: str) -> str:
    found = await card(asking, key)
    return "" if found is None else found.text


def seconds(at: datetime) -> int:
    return int(at.timestamp())
