"""The coach's side of judging: open an event for judging, see who owes what, close judging."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, view
from bot.actions.core.rescheduling import reschedule
from bot.actions.judging.judges_admin import overview
from bot.actions.judging.judging_opened import DrawnPanels, draw_panels, judged_events, open_sheets
from bot.actions.judging.sheet_queries import all_entries, lists_changed
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.open_and_close_judging import check_judging_runs, check_may_close
from bot.words.core.action_keys import ActionKey
from bot.words.core.plain_text import count
from bot.words.judging import open_and_close_judging as words
from storage.records.message import Answer, Message, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, late_changes, open_events_and_sheets, tryouts
from storage.tables.sql_session import Snapshot, Transaction
from storage.tables.surprises import waiting


@view(ActionKey.JUDGING_PICK_EVENT, "coach")
async def pick_event(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask which event shall be judged now."""
    check_judging_runs(tryout.state)
    opened = await open_events_and_sheets.opened(db, tryout.id)
    secret = [one.key for one in await waiting(db, tryout)]
    closed = [one for one in judged_events(tryout) if one.key not in opened]
    if not closed:
        raise Refusal(Reason.ALL_EVENTS_OPEN)
    ready = [one for one in closed if one.key not in secret]
    if not ready:
        raise Refusal(Reason.SURPRISE_FIRST, event=closed[0].name)
    return Replace(message=words.pick_event(ready))


async def _draw(
    db: Snapshot, tryout: Tryout, request: Request, named: str = "", *, picked: str = ""
) -> Work[DrawnPanels]:
    return await draw_panels(db, tryout, picked or named or request.fields.get("event", ""))


@act(ActionKey.JUDGING_OPEN, "coach", before=_draw)
async def open_event(
    db: Transaction, tryout: Tryout, request: Request, named: str = "", *, picked: str = "", prepared: DrawnPanels
) -> Answer:
    """Open one event for judging: every judge gets the sheets."""
    check_judging_runs(tryout.state)
    event = picked or named or request.fields.get("event", "")
    known = {one.key: one for one in judged_events(tryout)}
    if event not in known:
        raise Refusal(Reason.RUBRIC_GONE)
    if event in await open_events_and_sheets.opened(db, tryout.id):
        raise Refusal(Reason.EVENT_OPEN, event=known[event].name)
    if event in [one.key for one in await waiting(db, tryout)]:
        raise Refusal(Reason.SURPRISE_FIRST, event=known[event].name)
    if not await judges.judges(db, tryout.id):
        raise Refusal(Reason.NO_JUDGES)
    await open_sheets(db, tryout, event, request.at, prepared)
    await audit(db, tryout, request, "judging.open", event=event)
    return Replace(message=await overview(db, tryout))


@view(ActionKey.JUDGING_STATUS, "coach")
async def status(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show who owes what: numbers of sheets, never a mark."""
    return Replace(message=words.status(await judges.judges(db, tryout.id), await all_entries(db, tryout)))


@view(ActionKey.JUDGING_CLOSE, "coach")
async def sure_to_close(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask once before judging is closed, and name everything that is missing."""
    return Replace(message=await _missing(db, tryout, request))


async def _missing(db: Snapshot, tryout: Tryout, request: Request) -> Message:
    check_may_close(tryout.state)
    everybody, entries = await judges.judges(db, tryout.id), await all_entries(db, tryout)
    me = next((judge for judge in everybody if judge.platform_id == request.who), None)
    mine = sum(entry.owed for entry in entries if me is not None and entry.sheet.judge_id == me.id)
    if mine:
        # Who closes sees all marks a moment later.
        raise Refusal(Reason.OWN_SHEETS_BEFORE_CLOSE, sheets=count(mine, "sheet"))
    opened = await open_events_and_sheets.opened(db, tryout.id)
    unopened = [one for one in judged_events(tryout) if one.key not in opened]
    return words.sure_to_close(everybody, entries, unopened)


@act(ActionKey.JUDGING_CLOSED, "coach")
async def close(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Close judging; sheets that are missing are let go, kept as they are, and count for nothing."""
    await _missing(db, tryout, request)
    missing = [entry.sheet.id for entry in await all_entries(db, tryout) if entry.owed]
    await open_events_and_sheets.let_go(db, missing, request.at)
    await open_events_and_sheets.close_events(db, tryout.id, request.at)
    await late_changes.shut(db, tryout.id, request.at)
    await open_events_and_sheets.shut_requests(db, tryout.id, request.at)
    await tryouts.set_state(db, tryout.id, "settled")
    await reschedule(db, tryout.id, request.at)
    await lists_changed(db, tryout)
    await audit(db, tryout, request, "judging.close", missing=missing)
    return Replace(message=words.closed(len(missing)))
