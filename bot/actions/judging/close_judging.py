"""A coach closes judging."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.rescheduling import reschedule
from bot.actions.judging.sheet_queries import all_entries, lists_changed
from bot.rules.judging.close_judging import check_may_close, check_own_sheets_in, let_go
from bot.rules.judging.judged_rubrics import judged_events
from bot.rules.judging.judges_overview import owed_by
from bot.words.core.action_keys import ActionKey
from bot.words.judging import close_judging as words
from storage.records.message import Answer, Message, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, late_changes, live_messages, open_events, reopen_after_close, score_sheets, tryouts
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.JUDGING_CLOSE, "coach")
async def sure_to_close(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask once before judging is closed, and name everything that is missing."""
    return Replace(message=await _missing(db, tryout, request))


async def _missing(db: Snapshot, tryout: Tryout, request: Request) -> Message:
    check_may_close(tryout.state)
    everybody, entries = await judges.judges(db, tryout.id), await all_entries(db, tryout)
    me = next((judge for judge in everybody if judge.platform_id == request.who), None)
    mine = len(owed_by(me, entries)) if me is not None else 0
    check_own_sheets_in(mine, words.own_sheets(mine))
    opened = await open_events.opened(db, tryout.id)
    unopened = [one for one in judged_events(tryout.plan) if one.key not in opened]
    return words.sure_to_close(everybody, entries, unopened)


@act(ActionKey.JUDGING_CLOSED, "coach")
async def close(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Close judging; sheets that are missing are let go, kept as they are, and count for nothing."""
    await _missing(db, tryout, request)
    missing = let_go(await all_entries(db, tryout))
    await score_sheets.let_go(db, missing, request.at)
    await open_events.close_events(db, tryout.id, request.at)
    await reopen_after_close.shut_all_again(db, tryout.id, request.at)
    await late_changes.shut(db, tryout.id, request.at)
    await reopen_after_close.shut_requests(db, tryout.id, request.at)
    await tryouts.set_state(db, tryout.id, "settled")
    await pinned_changed(db, tryout)
    await reschedule(db, tryout.id, request.at)
    await lists_changed(db, tryout)
    await audit(db, tryout, request, "judging.close", missing=missing)
    return Replace(message=words.closed(len(missing)))


async def pinned_changed(db: Transaction, tryout: Tryout) -> None:
    """What students may press under the pinned messages depends on whether judging is closed."""
    for key in ("signup", "brief", "rules"):
        await live_messages.mark_stale(db, tryout.id, key)
