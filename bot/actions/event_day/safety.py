"""Safety at the table: lines confirmed by name before the first run of each day, and a stop with its reason."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.scorekeeping.recorded_so_far import events_shown
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.event_day.safety import read_stop_reason, told_name
from bot.rules.scorekeeping.may_record import check_open
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import safety as words
from storage.records.message import Answer, Open, Replace, Say
from storage.records.plan import Event
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import helpers, outbox, safety
from storage.tables.sql_session import Snapshot, Transaction


@view(DayKey.SAFETY_ASK, "scorekeeper")
async def ask_safety_lines(
    db: Snapshot, tryout: Tryout, request: Request, event_key: str, run_id: int | None = None
) -> Answer:
    """Show the safety lines, to be confirmed."""
    check_open(tryout)
    event = await _event(db, tryout, event_key)
    return Replace(message=words.lines(event, await _name(db, tryout, request), run_id))


@act(DayKey.SAFETY_DONE, "scorekeeper")
async def done(db: Transaction, tryout: Tryout, request: Request, event_key: str, run_id: int | None = None) -> Answer:
    """Somebody has checked, by name."""
    check_open(tryout)
    event = await _event(db, tryout, event_key)
    await safety.note_check(db, tryout.id, event.key, [None], request.who, request.at)
    who = await _name(db, tryout, request)
    await outbox.enqueue(db, tryout.id, "office", words.checked_by(event, who), request.at)
    await audit(db, tryout, request, "safety.checked", event=event.key)
    return Replace(message=words.checked(event, run_id))


@view(DayKey.STOP_ASK, "scorekeeper")
async def ask_stop(db: Snapshot, tryout: Tryout, request: Request, event_key: str) -> Answer:
    """Ask why everything stops."""
    check_open(tryout)
    return Open(form=words.stop_form(await _event(db, tryout, event_key)))


@act(DayKey.STOP_DONE, "scorekeeper")
async def stop(db: Transaction, tryout: Tryout, request: Request, event_key: str) -> Answer:
    """Nothing of the event starts any more, and the coach reads why."""
    check_open(tryout)
    event = await _event(db, tryout, event_key)
    reason = read_stop_reason(request.fields.get("reason", ""))
    await safety.stop(db, tryout.id, event.key, reason, request.who, request.at)
    found = (await safety.stopped(db, tryout.id))[event.key]
    told = words.told_stop(event, found, await _name(db, tryout, request))
    await outbox.enqueue(db, tryout.id, "office", told, request.at)
    await audit(db, tryout, request, "safety.stopped", event=event.key)
    return Say(message=words.stopped(event))


@act(DayKey.STOP_LIFT, "coach")
async def lift(db: Transaction, tryout: Tryout, request: Request, event_key: str) -> Answer:
    """The coach lets it go on; its safety is checked anew before the next run."""
    event = await _event(db, tryout, event_key)
    if await safety.lift(db, tryout.id, event.key, request.at):
        await audit(db, tryout, request, "safety.lifted", event=event.key)
    return Replace(message=words.lifted(event, await _name(db, tryout, request)))


async def _event(db: Snapshot, tryout: Tryout, event_key: str) -> Event:
    """An event that has started as far as the table knows; Refusal `no_measure`."""
    for event in await events_shown(db, tryout):
        if event.key == event_key:
            return event
    raise Refusal(TableReason.NO_MEASURE)


async def _name(db: Snapshot, tryout: Tryout, request: Request) -> str:
    """What somebody who helps is called in this try-out."""
    return told_name(await helpers.officers(db, tryout.id), request.who, request.name)
