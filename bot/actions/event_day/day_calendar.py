"""The times of the event day for people's own calendars."""

from collections.abc import Sequence
from functools import partial

from bot.actions.core.dispatch import Work, slow_view
from bot.actions.event_day.own_times import is_told
from bot.actions.scorekeeping.timetable_at_table import running_day
from bot.actions.squads.asking_student import my_squad_of
from bot.rules.event_day.own_times import check_own
from bot.rules.event_day.running_day import RunningDay
from bot.rules.event_day.timetable import check_made
from bot.words.calendar.calendar_file import version
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import day_calendar as words
from storage.records.event_day import DaySlot
from storage.records.message import Answer, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import squads
from storage.tables.sql_session import Snapshot


@slow_view(DayKey.DAY_CALENDAR, "coach")
async def whole(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """All times, for the coach."""
    found = await running_day(db, tryout, request.at)
    check_made(found.slots)
    return await _file(db, tryout, request, found, found.slots)


@slow_view(DayKey.DAY_MY_CALENDAR)
async def mine(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """The times of the squad of whoever asks."""
    _, squad, _ = await my_squad_of(db, tryout, request)
    found = await running_day(db, tryout, request.at)
    slots = [slot for slot in found.slots if slot.squad_id == squad.id]
    check_own(slots, await is_told(db, tryout))
    return await _file(db, tryout, request, found, slots)


async def _file(
    db: Snapshot, tryout: Tryout, request: Request, found: RunningDay, slots: Sequence[DaySlot]
) -> Work[Answer]:
    names = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    name = f"{tryout.server_id}-{tryout.id}"
    made = partial(
        words.times_file, tryout.plan, found, slots, names, name, request.at, version(tryout.created_at, request.at)
    )
    return lambda: Say(message=words.file(made()))
