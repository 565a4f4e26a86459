"""After the close only the coach can open a sheet again, one at a time and with a reason."""

from bot.actions.core.dispatch import act, audit, view
from bot.actions.judging.judges_admin import picked_judge
from bot.actions.judging.sheet_queries import entry_of, lists_changed, reopenable
from bot.rules.core.reasons import Reason
from bot.rules.core.refusal import Refusal
from bot.rules.judging.sheets import Entry
from bot.words.core.action_keys import ActionKey
from bot.words.judging import judge_reminders
from bot.words.judging import reopen_sheet as words
from storage.records.message import Answer, Open, Replace, Say
from storage.records.people import Judge
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, judging, queueing
from storage.tables.sql_session import Snapshot, Transaction

SHORTEST_REASON = 5


@view(ActionKey.JUDGING_PICK_SHEET, "coach")
async def pick_sheet(
    db: Snapshot, tryout: Tryout, request: Request, judge_id: int | None = None, *, picked: int | None = None
) -> Answer:
    """Ask which of a judge's sheets shall be opened again."""
    _check_closed(tryout)
    judge = await picked_judge(db, tryout, request, picked or judge_id)
    return Replace(message=words.pick_sheet(judge, await reopenable(db, tryout, judge)))


@view(ActionKey.JUDGING_PICKED_SHEET, "coach")
async def picked_sheet(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Ask why the picked sheet is opened again; one that is open is closed instead."""
    _check_closed(tryout)
    judge, entry = await _reopenable(db, tryout, picked)
    if entry.again:
        return Replace(message=words.sure_to_shut(judge, entry))
    return Open(form=words.reason_form(entry))


@act(ActionKey.JUDGING_REOPEN, "coach")
async def reopen(db: Transaction, tryout: Tryout, request: Request, sheet_id: int) -> Answer:
    """Open one sheet again, and tell its judge why."""
    _check_closed(tryout)
    judge, entry = await _reopenable(db, tryout, sheet_id)
    reason = " ".join(request.fields.get("reason", "").split())
    if len(reason) < SHORTEST_REASON:
        raise Refusal(Reason.NO_REASON)
    if entry.again:
        raise Refusal(Reason.SHEET_OPEN_AGAIN)
    await judging.reopen(db, entry.sheet.id, reason, request.at)
    if judge.opted_in_at is not None:
        await queueing.enqueue(
            db, tryout.id, f"judge/{judge.id}", judge_reminders.sheet_again(entry, reason), request.at
        )
    await lists_changed(db, tryout, judge.id)
    await audit(db, tryout, request, "sheet.reopen", sheet=entry.sheet.id, judge=judge.id)
    return Say(message=words.reopened(judge, entry))


@act(ActionKey.JUDGING_SHUT, "coach")
async def shut(db: Transaction, tryout: Tryout, request: Request, sheet_id: int) -> Answer:
    """Close a sheet that was opened again without waiting for its judge; if it is not whole, it does not count."""
    judge, entry = await _reopenable(db, tryout, sheet_id)
    if not entry.again:
        raise Refusal(Reason.SHEET_SHUT)
    await judging.shut_again(db, entry.sheet.id, request.at)
    if entry.owed:
        await judging.let_go(db, [entry.sheet.id], request.at)
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
    raise Refusal(Reason.SHEET_GONE)


def _check_closed(tryout: Tryout) -> None:
    if tryout.state in ("announced", "archived"):
        raise Refusal(Reason.JUDGING_OVER)
    if tryout.state != "settled":
        raise Refusal(Reason.JUDGING_OPEN)
