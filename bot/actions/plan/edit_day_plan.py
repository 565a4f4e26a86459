"""The plan of the event day, read and changed by form."""

from bot.actions.core.changed_meanwhile import PLAN, overtaken
from bot.actions.core.dispatch import act, view
from bot.actions.plan.edit_plan import propose_changes
from bot.actions.plan.form_mistakes import Reading
from bot.rules.core.parse_typed import read_date, read_list
from bot.rules.plan import edit_day_plan as rules
from bot.words.core.changed_meanwhile import stamped
from bot.words.core.day_action_keys import DayKey
from bot.words.plan import edit_day_plan as words
from storage.records.day_plan import DayPlan
from storage.records.message import Answer, Open
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot, Transaction


@view(DayKey.DAY_PLAN, "coach")
async def day_plan(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form of the event day."""
    return Open(form=stamped(words.day_form(tryout.plan.event_day or DayPlan(), tryout.state)))


@act(DayKey.DAY_PLANNED, "coach")
async def planned(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Take another plan of the event day."""
    now = words.day_form(tryout.plan.event_day or DayPlan(), tryout.state)
    if (told := await overtaken(db, tryout, request, now, stamp, (DayKey.DAY_PLAN,), PLAN)) is not None:
        return told
    reading = Reading()
    dates = reading.take(lambda: tuple(map(read_date, read_list(request.fields.get("dates", "")))))
    lessons = reading.take(lambda: rules.read_lessons(request.fields.get("lessons", "")))
    breaks = reading.take(lambda: rules.read_breaks(request.fields.get("breaks", "")))
    numbers = reading.take(lambda: rules.read_numbers(request.field("numbers")))
    before = tryout.plan.event_day or DayPlan()
    changed = before
    if not reading.lines:
        updates = {"dates": dates, "lessons": lessons, "breaks": breaks, **(numbers or {})}
        changed = before.model_copy(update=updates)
    return await propose_changes(db, tryout, request, reading, {"event_day": changed}, (DayKey.DAY_PLAN, now))
