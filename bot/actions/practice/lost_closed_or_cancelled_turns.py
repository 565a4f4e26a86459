"""Practice turns are cancelled: the coach notes one as lost, or closes it, or the plan changes."""

from datetime import datetime

from bot.actions.core.dispatch import act
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.practice.all_turns_admin import asked, changed, squad_is_told, turn_shown
from bot.actions.practice.practice_table import plan_openings
from bot.actions.practice.turn_reminders import drop_reminder, plan_reminder
from bot.rules.practice import lost_closed_or_cancelled_turns as rules
from bot.rules.practice.practice_table import PracticeTable, slots
from bot.words.core.action_keys import ActionKey
from bot.words.practice import lost_closed_or_cancelled_turns as words
from storage.records.message import Answer
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import outbox, practice
from storage.tables.sql_session import Transaction


async def fit_turns(db: Transaction, tryout: Tryout, now: datetime) -> None:
    """After a change of the plan: give turns back that are no more, tell their squads, and remind of the others."""
    turns = await practice.turns(db, tryout.id)
    gone: dict[int, list[datetime]] = {}
    for turn in rules.stranded(slots(tryout.plan, schedule_of(tryout)), turns, now):
        await practice.free(db, tryout.id, turn.begins_at)
        if turn.squad_id is not None:
            gone.setdefault(turn.squad_id, []).append(turn.begins_at)
            await drop_reminder(db, tryout, turn.squad_id, turn.begins_at, now)
    until = rules.chooses_first_until(tryout.plan.practice, now)
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


@act(ActionKey.PRACTICE_LOSE, "coach")
async def lose(db: Transaction, tryout: Tryout, request: Request, begins: int) -> Answer:
    """Note that a squad's turn was lost through equipment: it may book another one."""
    table, begin = await asked(db, tryout, begins)
    squad_id = rules.check_held(table, begin)
    await practice.set_lost(db, tryout.id, begin, True)
    await squad_is_told(db, tryout, request, squad_id, begin, words.told_lost)
    return await _done(db, tryout, request, table, begin, "lost", squad_id)


@act(ActionKey.PRACTICE_UNLOSE, "coach")
async def unlose(db: Transaction, tryout: Tryout, request: Request, begins: int) -> Answer:
    """Take that back."""
    table, begin = await asked(db, tryout, begins)
    squad_id = rules.check_lost(table, begin)
    await practice.set_lost(db, tryout.id, begin, False)
    await plan_reminder(db, tryout, squad_id, begin, request.at)
    await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", words.told_not_lost(begin), request.at)
    return await _done(db, tryout, request, table, begin, "unlost", squad_id)


@act(ActionKey.PRACTICE_BLOCK, "coach")
async def block(db: Transaction, tryout: Tryout, request: Request, begins: int) -> Answer:
    """Close a turn; a squad that had it is told and has it back."""
    table, begin = await asked(db, tryout, begins)
    squad_id = rules.check_may_close(table, begin, request.at)
    await practice.block(db, tryout.id, begin)
    if squad_id is not None:
        await squad_is_told(db, tryout, request, squad_id, begin, words.told_blocked)
    return await _done(db, tryout, request, table, begin, "blocked", squad_id)


@act(ActionKey.PRACTICE_OPEN, "coach")
async def open_again(db: Transaction, tryout: Tryout, request: Request, begins: int) -> Answer:
    """Let a closed turn be booked again."""
    table, begin = await asked(db, tryout, begins)
    rules.check_closed(table, begin)
    await practice.free(db, tryout.id, begin)
    return await _done(db, tryout, request, table, begin, "opened", None)


async def _done(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    before: PracticeTable,
    begin: datetime,
    what: str,
    squad_id: int | None,
) -> Answer:
    await changed(db, tryout, request, before, begin, what, squad_id)
    return await turn_shown(db, tryout, request, begin, words.SAID[what])
