"""A squad that is too small: the coach lets it be small, or waits for members until a day, is reminded, and decides."""

from datetime import datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.scheduled_jobs import job
from bot.actions.squads.members import is_small
from bot.actions.squads.squads_admin import squad_of, squad_page
from bot.actions.squads.squads_changed import tell_squad
from bot.rules.core.typed_reason import reason_of
from bot.rules.squads import small_squads as rules
from bot.rules.squads.small_squads import members_missing
from bot.words.core.action_keys import ActionKey
from bot.words.core.class_action_keys import ClassKey
from bot.words.squads import small_squads as words
from storage.records.message import Answer, Open, Replace, Say
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import decisions, outbox, scheduled_jobs, squads, wait_for_members
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.SQUAD_LOOK, "coach")
async def look(db: Snapshot, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Show the squad, from a message in the office."""
    return Say(message=await squad_page(db, tryout, await squad_of(db, tryout, squad_id)))


@view(ClassKey.GRACE_ASK, "coach")
async def ask_grace(db: Snapshot, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Open the form: until which school day, and why."""
    squad = await squad_of(db, tryout, squad_id)
    await check_small(db, tryout, squad)
    return Open(form=words.grace_form(squad, rules.days_to_pick(tryout.plan, request.at)))


@act(ClassKey.GRACE_GIVEN, "coach")
async def give(db: Transaction, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Wait until the end of a school day, and tell the squad."""
    squad = await squad_of(db, tryout, squad_id)
    await check_small(db, tryout, squad)
    day = rules.read_day(tryout.plan, request.field("until"), request.at)
    reason, until = reason_of(request), rules.end_of(tryout.plan, day)
    await _wait(db, tryout, squad, until, request.at)
    decision = await decisions.decide(db, tryout.id, "grace", squad.id, None, reason, request.at)
    missing = members_missing(tryout.plan, await squads.members(db, squad.id))
    await tell_squad(db, tryout, squad, words.told(squad, missing, until), request)
    await audit(db, tryout, request, "decision.grace", decision=decision, squad=squad.id)
    return Replace(message=await squad_page(db, tryout, squad))


async def _wait(db: Transaction, tryout: Tryout, squad: Squad, until: datetime, now: datetime) -> None:
    await wait_for_members.wait_until(db, squad.id, until)
    number = f"{squad.id}.{until:%Y%m%dT%H%M}"
    await scheduled_jobs.schedule_job(db, tryout.id, "grace", number, until)
    reminder = rules.remind_at(tryout.plan, until, now)
    if reminder is not None:
        await scheduled_jobs.schedule_job(db, tryout.id, "grace-reminder", number, reminder, until)


@job("grace-reminder")
async def remind(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """The coach is reminded, if the squad is still too small."""
    squad = await _waiting(db, tryout, row)
    if squad is not None:
        until = await wait_for_members.waits_until(db, squad.id)
        assert until is not None
        members = await squads.members(db, squad.id)
        await outbox.enqueue(db, tryout.id, "office", words.still(squad, len(members), until), now, until)


@job("grace")
async def over(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """The coach is asked to decide, if the squad is still too small; nothing happens to it.

    A day that was closed meanwhile does not count: the squad has until the end of the next school day.
    """
    squad = await _waiting(db, tryout, row)
    if squad is None:
        return
    members = await squads.members(db, squad.id)
    later = rules.later_end(tryout.plan, now)
    if later is not None:
        await _wait(db, tryout, squad, later, now)
        message = words.told(squad, members_missing(tryout.plan, members), later)
        await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", message, now)
    else:
        await outbox.enqueue(db, tryout.id, "office", words.decide_now(squad, len(members)), now)


async def _waiting(db: Snapshot, tryout: Tryout, row: ScheduledJob) -> Squad | None:
    """The squad that a job is about, unless it has enough members, may be small, is out, or got another day."""
    number, _, moment = row.key.partition(".")
    squad = await squads.squad(db, int(number))
    if squad is None:
        return None
    until = await wait_for_members.waits_until(db, squad.id)
    as_planned = until is not None and f"{until:%Y%m%dT%H%M}" == moment
    concerned = rules.is_waited_for(squad, tryout.state, as_planned, await is_small(db, tryout, squad))
    return squad if concerned else None


@view(ActionKey.PEOPLE_SMALL, "coach")
async def ask_small(db: Snapshot, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Open the form for the reason why a squad may be small."""
    squad = await squad_of(db, tryout, squad_id)
    await check_small(db, tryout, squad)
    return Open(form=words.small_form(squad))


@act(ActionKey.PEOPLE_SMALLED, "coach")
async def allow_small(db: Transaction, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Let a squad take part though it is small."""
    squad = await squad_of(db, tryout, squad_id)
    await check_small(db, tryout, squad)
    decision = await decisions.decide(db, tryout.id, "small", squad.id, None, reason_of(request), request.at)
    await tell_squad(db, tryout, squad, words.may_be_small(), request)
    await audit(db, tryout, request, "decision.small", decision=decision, squad=squad.id)
    return Replace(message=await squad_page(db, tryout, squad))


async def check_small(db: Snapshot, tryout: Tryout, squad: Squad) -> None:
    """A squad is too small and was not allowed to be, or a Refusal: `squad_is_not_small`."""
    rules.check_small(squad, await is_small(db, tryout, squad))
