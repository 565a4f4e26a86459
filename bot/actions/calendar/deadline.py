"""The deadline: the window ends and judging begins."""

from datetime import datetime

from bot.actions.core.audit import append_entry
from bot.actions.core.dispatch import Work
from bot.actions.core.rescheduling import hold, reschedule
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.core.scheduled_jobs import job
from bot.actions.judging.open_judging import DrawnPanels, draw_panels, open_judging
from bot.words.calendar import deadline as words
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import live_messages, outbox, scheduled_jobs, tryouts
from storage.tables.sql_session import Snapshot, Transaction


async def _draw_panels(db: Snapshot, tryout: Tryout, now: datetime) -> Work[DrawnPanels]:
    """Draw the panels of all events that are judged from now on."""
    return await draw_panels(db, tryout)


@job("deadline", before=_draw_panels)
async def deadline(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime, *, prepared: DrawnPanels) -> None:
    """The window ends and judging begins."""
    if tryout.state != "window":
        await scheduled_jobs.settle_job(db, row.id, "skipped", now, "window not open")
        return
    if await hold(db, tryout, row, now):
        return
    await scheduled_jobs.settle_job(db, row.id, "done", now)
    await tryouts.set_state(db, tryout.id, "judging")
    await reschedule(db, tryout.id, now)
    await outbox.enqueue(db, tryout.id, "news", words.window_closed(tryout.plan, schedule_of(tryout)), now)
    await outbox.enqueue(db, tryout.id, "office", words.judging_begins(schedule_of(tryout)), now)
    await open_judging(db, tryout, now, prepared)
    await live_messages.mark_stale(db, tryout.id, "*")
    await append_entry(db, tryout.id, now, "clock", "window.close", {})
