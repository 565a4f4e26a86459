"""The brief is released to all at one moment: by hand, or by itself at its time."""

from collections.abc import Sequence
from datetime import datetime

from bot.actions.calendar.signup_closes import reschedule_window
from bot.actions.core.audit import append_entry, audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.rescheduling import hold
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.core.scheduled_jobs import job
from bot.actions.hand_in.member_parts import place_part_messages
from bot.actions.office.readiness import before_step, facts
from bot.actions.practice.first_round_draw import open_practice
from bot.actions.squads.members import by_squad
from bot.rules.calendar.release_brief import check_may_release, to_the_minute, window_begins
from bot.rules.calendar.school_days import school_days_left
from bot.rules.calendar.step_facts import Lack
from bot.rules.core.lateness import is_late
from bot.rules.office.readiness import lacks, ready
from bot.rules.plan.read_plan import fingerprint, short_fingerprint
from bot.words.calendar import release_brief as words
from bot.words.core.action_keys import ActionKey
from bot.words.office.readiness import lack_lines, worth_knowing
from bot.words.plan.public_plan import public_plan
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import live_messages, outbox, scheduled_jobs, tryouts
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.BRIEF_ASK, "coach")
async def ask_release(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show what everyone will be told, before the brief is released by hand."""
    check_may_release(tryout.state, tryout.brief_at)
    lacking, stop = await before_step(db, tryout, request.at, "brief")
    return stop or _asked(tryout, request, lacking)


def _asked(tryout: Tryout, request: Request, lacking: Sequence[Lack], changed: bool = False) -> Answer:
    """What everyone would be told now."""
    soon = tryout.model_copy(update={"brief_at": to_the_minute(request.at)})
    schedule = schedule_of(soon)
    left = school_days_left(tryout.plan, schedule.deadline, request.at)
    news = words.in_news(tryout.plan, schedule, left, public_plan(tryout.plan))
    room = words.in_room(schedule, left)
    stamp = short_fingerprint(tryout.plan)
    return Replace(message=words.sure_to_release(news, room, worth_knowing(lacking), stamp, changed))


@act(ActionKey.BRIEF_RELEASE, "coach")
async def release_now(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Release the brief by hand, of the plan that was shown; another one is shown first.

    Buttons of older versions do not say which plan was shown.
    """
    check_may_release(tryout.state, tryout.brief_at)
    lacking, stop = await before_step(db, tryout, request.at, "brief")
    if stop is not None:
        return stop
    if stamp != short_fingerprint(tryout.plan):
        return _asked(tryout, request, lacking, changed=True)
    await release(db, tryout, to_the_minute(request.at), request.at)
    await audit(db, tryout, request, "brief.release", sha256=fingerprint(tryout.plan))
    return Replace(message=words.released())


@job("brief")
async def release_planned(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """Release the brief at its moment; when something stands in the way, the coach is told what."""
    if tryout.state != "signup":
        await scheduled_jobs.settle_job(db, row.id, "skipped", now, "sign-up not open")
        return
    if await hold(db, tryout, row, now):
        return
    found = await facts(db, tryout, now)
    if not ready(found, "brief"):
        await scheduled_jobs.settle_job(db, row.id, "skipped", now, "not ready")
        missing = lack_lines([lack for lack in lacks(found, "brief") if lack.blocks])
        await outbox.enqueue(db, tryout.id, "office", words.not_released(missing), now)
        return
    await scheduled_jobs.settle_job(db, row.id, "done", now)
    await release(db, tryout, window_begins(row.at, now, is_late(row, now)), now)
    await append_entry(db, tryout.id, now, "clock", "brief.release", {"sha256": fingerprint(tryout.plan)})


async def release(db: Transaction, tryout: Tryout, at: datetime, now: datetime) -> None:
    """Freeze the plan and tell everyone, at one moment; the window runs from `at`."""
    sha256 = fingerprint(tryout.plan)
    await tryouts.set_state(db, tryout.id, "window")
    await tryouts.freeze(db, tryout.id, sha256, at)
    opened = await tryouts.get(db, tryout.id)
    await reschedule_window(db, opened, now)
    schedule = schedule_of(opened)
    left = school_days_left(opened.plan, schedule.deadline, now)
    news = words.in_news(opened.plan, schedule, left, public_plan(opened.plan))
    await outbox.enqueue(db, tryout.id, "news", news, now)
    await live_messages.place(db, tryout.id, "brief", "news", pinned=True)
    taking_part = [(squad, members) for squad, members in await by_squad(db, opened) if squad is not None]
    for squad, members in taking_part:
        room = words.in_room(schedule, left, members)
        await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", room, now)
    await place_part_messages(db, opened, [squad.id for squad, _ in taking_part])
    await open_practice(db, opened, now)
    await live_messages.mark_stale(db, tryout.id, "*")
