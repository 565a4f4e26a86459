"""The dates of the try-out as a file for the coach's own calendar."""

from datetime import datetime
from functools import partial

from bot.actions.core.dispatch import Work, slow_view
from bot.actions.core.schedule_cache import schedule_of
from bot.rules.calendar.calendar import Schedule
from bot.words.calendar import calendar_file as words
from bot.words.core.action_keys import ActionKey
from storage.records.message import Answer, Say
from storage.records.plan import Plan
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot


@slow_view(ActionKey.PLAN_CALENDAR, "coach")
async def calendar_file(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """Give the dates as a file for the coach's own calendar; a later file takes the place of an earlier one."""
    number, name = words.version(tryout.created_at, request.at), f"{tryout.server_id}-{tryout.id}"
    return partial(_file, tryout.plan, schedule_of(tryout), name, request.at, number)


def _file(plan: Plan, planned: Schedule, name: str, now: datetime, number: int) -> Answer:
    return Say(message=words.calendar_message(words.calendar_file(plan, planned, name, now, number)))
