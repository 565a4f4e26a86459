"""The coach's daily digest; silent when there is nothing to say."""

from datetime import datetime
from functools import partial

from bot.actions.calendar.squad_debts import debts
from bot.actions.core.dispatch import Work
from bot.actions.core.scheduled_jobs import job
from bot.actions.delivery.destination import destination_of
from bot.actions.office.readiness import facts
from bot.rules.office import digest as rules
from bot.words.office import digest as words
from storage.records.message import Message
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import outbox, scheduled_jobs, students
from storage.tables.sql_session import Snapshot, Transaction
from storage.tables.undelivered import undelivered


async def _compose(db: Snapshot, tryout: Tryout, now: datetime) -> Work[Message | None]:
    """What is new since the last digest: who is behind, what was skipped, what is due; None where nothing is."""
    found = await facts(db, tryout, now)
    named = rules.names_who_is_behind(tryout.state, found.schedule.signup_closes, tryout.brief_at, now)
    behind = [(squad, owed) for squad, owed in await debts(db, tryout, now) if owed] if named else None
    alone = found.alone if rules.names_who_is_alone(tryout.state) else 0
    sheets_open = found.sheets - found.sheets_done if rules.counts_open_sheets(tryout.state) else 0
    planned = await scheduled_jobs.jobs_of(db, tryout.id)
    soon = [
        (one.kind, one.at)
        for one in planned
        if one.state == "waiting" and rules.is_worth_a_line(one.kind) and rules.is_soon(one.at, now)
    ]
    said = [one.handled_at for one in planned if one.kind == "digest" and one.state == "done" and one.handled_at]
    skipped = await _skipped(db, tryout, rules.looks_back_to(said, now))
    late = [one.name for one in rules.came_late(await students.students(db, tryout.id))]
    before = await outbox.texts_beginning(db, tryout.id, "office", words.HEAD)
    lines = partial(words.lines, behind, alone, sheets_open, skipped, soon, found.questions, late)
    return lambda: words.digest(lines(), before)


@job("digest", catch_up=True, before=_compose)
async def digest(
    db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime, *, prepared: Message | None
) -> None:
    """Tell the coach what is new since the last digest; or nothing. It is as true as when it was composed."""
    if prepared is None:
        await scheduled_jobs.settle_job(db, row.id, "done", now, "nothing to say")
        return
    await outbox.enqueue(db, tryout.id, "office", prepared, now, row.stale_after)


async def _skipped(db: Snapshot, tryout: Tryout, since: datetime) -> list[tuple[str, str]]:
    """What was not said or done since the last digest, and why; messages under the names of their places.

    Digests that were skipped are left out: this one says all that they would have said.
    """
    return [
        ((await destination_of(db, tryout.id, one.what)).label if one.message else one.what, one.why)
        for one in await undelivered(db, tryout.id, since)
        if rules.names_as_skipped(one.what, one.message)
    ]
