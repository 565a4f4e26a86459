"""After a change of the plan: practice turns that are no more are given back, and their squads are told."""

from datetime import datetime

from bot.actions.core.schedule_cache import schedule_of
from bot.actions.practice.practice_table import plan_openings
from bot.actions.practice.turn_reminders import drop_reminder, plan_reminder
from bot.rules.practice.cancelled_turns import chooses_first_until, stranded
from bot.rules.practice.practice_table import slots
from bot.words.practice import cancelled_turns as words
from storage.records.tryout import Tryout
from storage.tables import outbox, practice
from storage.tables.sql_session import Transaction


async def fit_turns(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """After a change of the plan: give turns back that are no more, tell their squads, and remind of the others."""
    turns = await practice.turns(db, tryout.id)
    gone: dict[int, list[datetime]] = {}
    for turn in stranded(slots(tryout.plan, schedule_of(tryout)), turns, now):
        await practice.free(db, tryout.id, turn.begins_at)
        if turn.squad_id is not None:
            gone.setdefault(turn.squad_id, []).append(turn.begins_at)
            await drop_reminder(db, tryout, turn.squad_id, turn.begins_at, now)
    until = chooses_first_until(tryout.plan.practice, now)
    for squad_id, begins in gone.items():
        if until is not None:
            await practice.claim(db, squad_id, len(begins), until)
        message = words.told_moved(begins, until)
        await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", message, now)
    for turn in await practice.turns(db, tryout.id):
        if turn.squad_id is not None and turn.state == "held" and turn.begins_at > now:
            await plan_reminder(db, tryout, turn.squad_id, turn.begins_at, now)
    if gone:
        await plan_openings(db, tryout, now)
