"""Reminding judges of the sheets they still owe, by the clock or by the coach; silent to those who owe nothing."""

from datetime import datetime

from bot.actions.core.audit import append_entry, audit
from bot.actions.core.dispatch import act
from bot.actions.core.rescheduling import hold
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.core.scheduled_jobs import job
from bot.actions.judging.sheet_queries import entries_of, lists_changed
from bot.actions.judging.sheets_follow_panels import assign_sheets
from bot.rules.core.lateness import is_late
from bot.rules.judging.judge_reminders import check_may_remind, is_just_out, is_written_to, to_remind_of
from bot.words.core.action_keys import ActionKey
from bot.words.judging import judge_reminders as words
from storage.records.message import Answer, Say
from storage.records.request import Request
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import judges, open_events, outbox, tryouts
from storage.tables.sql_session import Transaction


@act(ActionKey.JUDGING_REMIND, "coach")
async def remind(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Remind every judge who owes a sheet now, at most once an hour.

    Raises Refusal: `just_reminded` (at), `judging_not_begun`.
    """
    check_may_remind(tryout.state, tryout.judges_reminded_at, request.at)
    closes = schedule_of(tryout).judging_closes
    told = silent = 0
    for judge in await judges.judges(db, tryout.id):
        mine = await entries_of(db, tryout, judge)
        if not to_remind_of(mine):
            continue
        if not is_written_to(judge):
            silent += 1
            continue
        await outbox.enqueue(db, tryout.id, f"judge/{judge.id}", words.still_open(mine, closes, False), request.at)
        told += 1
    if told:
        await tryouts.note_judges_reminded(db, tryout.id, request.at)
        await audit(db, tryout, request, "judges.remind", judges=told)
    return Say(message=words.reminded(told, silent))


@job("chase", catch_up=True)
async def chase(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """Tell each judge who agreed to be written to what is still open, and when it should be done."""
    if await hold(db, tryout, row, now):
        return
    # Squads may have come or gone since the sheets were handed out.
    await assign_sheets(db, tryout, now)
    await lists_changed(db, tryout)
    closes = schedule_of(tryout).judging_closes
    fresh = {one.event for one in (await open_events.opened(db, tryout.id)).values() if is_just_out(one.opened_at, now)}
    told = 0
    for judge in await judges.judges(db, tryout.id):
        mine = await entries_of(db, tryout, judge)
        if is_written_to(judge) and to_remind_of(mine, fresh):
            message = words.still_open(mine, closes, is_late(row, now))
            await outbox.enqueue(db, tryout.id, f"judge/{judge.id}", message, now, row.stale_after)
            told += 1
    if told:
        await append_entry(db, tryout.id, now, "clock", "judges.chase", {"judges": told})
