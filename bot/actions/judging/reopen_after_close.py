"""After the close: judging or one sheet is opened again, with a reason, by two coaches or by one who has waited."""

from bot.actions.core.audit import actor_of, audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.rescheduling import reschedule
from bot.actions.judging.close_judging import pinned_changed
from bot.actions.judging.picked_judge import picked_judge
from bot.actions.judging.sheet_queries import entry_of, lists_changed, reopenable
from bot.rules.core.audit_pseudonyms import is_by
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging import reopen_after_close as rules
from bot.rules.judging.close_judging import let_go
from bot.rules.judging.my_sheets import Entry
from bot.words.core.action_keys import ActionKey
from bot.words.judging import reopen_after_close as words
from storage.records.message import Answer, Open, Replace, Say
from storage.records.people import Judge
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, outbox, reopen_after_close, score_sheets, tryouts
from storage.tables.sql_session import Snapshot, Transaction

ASKED = "judging.ask-again"


@view(ActionKey.JUDGING_PICK_SHEET, "coach")
async def pick_sheet(
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    judge_id: int | None = None,
    page: int = 0,
    *,
    picked: int | None = None,
) -> Answer:
    """Ask which of a judge's sheets shall be opened again."""
    rules.check_may_reopen_sheet(tryout.state, tryout.result_stands)
    judge = await picked_judge(db, tryout, request, picked or judge_id)
    return Replace(message=words.pick_sheet(judge, await reopenable(db, tryout, judge), page))


@view(ActionKey.JUDGING_PICKED_SHEET, "coach")
async def picked_sheet(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Ask why the picked sheet is opened again; one that is open is closed instead."""
    rules.check_may_reopen_sheet(tryout.state, tryout.result_stands)
    judge, entry = await _reopenable(db, tryout, picked)
    if entry.again:
        return Replace(message=words.sure_to_shut(judge, entry))
    return Open(form=words.reason_form(entry))


@act(ActionKey.JUDGING_REOPEN, "coach")
async def ask_for_sheet(db: Transaction, tryout: Tryout, request: Request, sheet_id: int) -> Answer:
    """Ask for one sheet to be opened again; the office reads it."""
    rules.check_may_reopen_sheet(tryout.state, tryout.result_stands)
    judge, entry = await _reopenable(db, tryout, sheet_id)
    rules.check_is_closed(entry)
    return await _ask(db, tryout, request, words.sheet_name(judge, entry), sheet_id)


@view(ActionKey.JUDGING_RESUME, "coach")
async def why_resume(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask why all of judging is opened again."""
    rules.check_may_resume(tryout.state, tryout.result_stands)
    return Open(form=words.resume_form())


@act(ActionKey.JUDGING_RESUME_ASKED, "coach")
async def ask_to_resume(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Ask for all of judging to be opened again; the office reads it."""
    rules.check_may_resume(tryout.state, tryout.result_stands)
    return await _ask(db, tryout, request, words.ALL)


async def _ask(db: Transaction, tryout: Tryout, request: Request, what: str, sheet_id: int | None = None) -> Answer:
    reason = rules.read_reason(request.fields.get("reason", ""))
    asked = await reopen_after_close.ask_to_reopen(
        db, tryout.id, sheet_id, reason, actor_of(tryout, request.who), request.at
    )
    await audit(db, tryout, request, ASKED, asked=asked)
    alone_from = rules.alone_from(request.at)
    told = words.asked_in_office(asked, what, reason, alone_from)
    await outbox.enqueue(db, tryout.id, "office", told, request.at)
    return Say(message=words.asked_to_reopen(asked, what, alone_from))


@act(ActionKey.JUDGING_AGREED, "coach")
async def agree(db: Transaction, tryout: Tryout, request: Request, request_id: int) -> Answer:
    """Do what was asked for, if nothing was announced or closed since: another coach agrees, or who asked has waited.

    Raises Refusal: `reopening_waits` (at).
    """
    every = await reopen_after_close.requests_to_reopen(db, tryout.id)
    asked = rules.check_waits(next((one for one in every if one.id == request_id), None))
    rules.check_agreed(asked.asked_at, not is_by(asked.asked_by, tryout.audit_key, request.who), request.at)
    await reopen_after_close.agree_to_reopen(db, request_id, request.at)
    if asked.sheet_id is None:
        return await _resume(db, tryout, request)
    return await _reopen(db, tryout, request, asked.sheet_id, asked.reason)


async def _resume(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Let judging go on after it was closed; sheets that were let go are owed again."""
    rules.check_may_resume(tryout.state, tryout.result_stands)
    await reopen_after_close.open_again(db, tryout.id)
    await tryouts.set_state(db, tryout.id, "judging")
    await pinned_changed(db, tryout)
    await reschedule(db, tryout.id, request.at)
    await lists_changed(db, tryout)
    await audit(db, tryout, request, "judging.resume")
    return Replace(message=words.resumed())


async def _reopen(db: Transaction, tryout: Tryout, request: Request, sheet_id: int, reason: str) -> Answer:
    """Open one sheet again, and tell its judge why."""
    rules.check_may_reopen_sheet(tryout.state, tryout.result_stands)
    judge, entry = await _reopenable(db, tryout, sheet_id)
    rules.check_is_closed(entry)
    await reopen_after_close.reopen(db, entry.sheet.id, reason, request.at)
    if rules.is_told(judge):
        message = words.sheet_again(entry, reason)
        await outbox.enqueue(db, tryout.id, f"judge/{judge.id}", message, request.at)
    await lists_changed(db, tryout, judge.id)
    await audit(db, tryout, request, "sheet.reopen", sheet=entry.sheet.id, judge=judge.id)
    return Replace(message=words.reopened(judge, entry))


@act(ActionKey.JUDGING_SHUT, "coach")
async def shut(db: Transaction, tryout: Tryout, request: Request, sheet_id: int) -> Answer:
    """Close a sheet that was opened again without waiting for its judge; if it is not whole, it does not count."""
    judge, entry = await _reopenable(db, tryout, sheet_id)
    rules.check_is_open(entry)
    await reopen_after_close.shut_again(db, entry.sheet.id, request.at)
    await score_sheets.let_go(db, let_go([entry]), request.at)
    if rules.is_told(judge):
        await outbox.enqueue(db, tryout.id, f"judge/{judge.id}", words.sheet_shut(entry), request.at)
    await lists_changed(db, tryout, judge.id)
    await audit(db, tryout, request, "sheet.shut", sheet=entry.sheet.id, judge=judge.id)
    return Replace(message=words.shut(judge, entry))


async def _reopenable(db: Snapshot, tryout: Tryout, sheet_id: int) -> tuple[Judge, Entry]:
    entry = await entry_of(db, tryout, sheet_id)
    judge = await judges.judge(db, entry.sheet.judge_id)
    if judge is None or judge.removed:
        raise Refusal(Reason.NOT_A_JUDGE)
    for one in await reopenable(db, tryout, judge):
        if one.sheet.id == sheet_id:
            return judge, one
    raise Refusal(Reason.SHEET_GONE, entered="")
