"""A window with squads, judges and an event day, for the checks."""

from datetime import UTC, date, datetime, time, timedelta
from typing import Any

from storage.records.day_plan import DayPlan, Lesson
from storage.records.event_day import DaySlot
from storage.tables import day_timetable
from tests.actions.conftest import Asking, Begin
from tests.actions.table_help import add_judges, add_squads

NINE = datetime(2027, 1, 22, 14, 0, tzinfo=UTC)
"""Nine o'clock in New York on the event day, a Friday."""
KEY = "4 4 1 6 2"
KEEPER = 801


def one_lesson(**more: Any) -> DayPlan:
    """All squads of 7-A in one lesson of 90 minutes from nine on."""
    lesson = Lesson(section="7-A", begins=time(9), ends=time(10, 30))
    values: dict[str, Any] = {"dates": (date(2027, 1, 22),), "lessons": (lesson,)}
    return DayPlan(**(values | more))


async def planned(begin: Begin, squads: int = 4, judges: int = 2, **more: Any) -> Asking:
    """An event day that is still to be drawn."""
    asking = await begin("window", event_day=one_lesson(**more))
    await add_squads(asking, squads)
    if judges:
        await add_judges(asking, judges)
    return asking


async def made(begin: Begin, squads: int = 4, judges: int = 2, **more: Any) -> Asking:
    """An event day whose timetable squads have read, at nine on the day itself."""
    asking = await planned(begin, squads, judges, **more)
    await asking.ask("day.publish")
    await asking.ask("day.drawn", fields={"key": KEY})
    made = await asking.message("day.make")
    assert "Tell the squads" in str(made.rows), made.text
    asking.now = NINE - timedelta(minutes=30)
    await asking.ask("day.tell")
    return asking


async def slots(asking: Asking, kind: str = "run") -> list[DaySlot]:
    """The timetable as it is now."""
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        return [slot for slot in await day_timetable.slots(db, tryout.id) if slot.kind == kind]


async def save(asking: Asking, slot: DaySlot, number: int) -> None:
    await asking.ask(f"table.save:run.socks:{slot.squad_id}:{number}:4:0")


async def calls(asking: Asking, squad: int) -> list[str]:
    return [
        text for text in await asking.messages_to(f"squad/{squad}") if "**It is your" in text or "**You are" in text
    ]


def line_time(slot: DaySlot) -> int:
    return int(slot.begins_at.timestamp())
