"""One score sheet of a judge: seen, opened as forms, saved step by step, and closed when it had been opened again."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.live_messages import shown_by_answer
from bot.actions.judging.my_sheets import own_list
from bot.actions.judging.sheet_queries import entries_now, entry_of, lists_changed, me_as_judge, my_entry
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.delivery.sending_limits import freely_edited
from bot.rules.judging.marks_fingerprint import marks_fingerprint
from bot.rules.judging.my_sheets import Entry, comes_next
from bot.rules.judging.score_sheet import (
    changed_elsewhere,
    check_may_mark,
    closes_again,
    filled_in,
    is_whole,
    next_step,
    read_step,
    state_of,
    steps,
    with_step,
)
from bot.words.core.action_keys import ActionKey
from bot.words.judging import score_sheet as words
from storage.records.message import Answer, Open, Replace, Say
from storage.records.plan_measures import Criterion
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import live_messages, reopen_after_close, score_sheets
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.SHEETS_LOOK, "judge")
async def look(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Show one of my sheets with everything in it."""
    me = await me_as_judge(db, tryout, request)
    entry = await my_entry(db, tryout, me, picked)
    return Say(message=words.sheet(entry, typing=request.server_id is None))


@view(ActionKey.SHEETS_MARK, "judge")
async def mark(db: Snapshot, tryout: Tryout, request: Request, sheet_id: int | None = None) -> Answer:
    """Open a sheet at the first step that is not marked yet; without a number, the sheet that comes next."""
    me = await me_as_judge(db, tryout, request)
    if sheet_id is not None:
        entry = await my_entry(db, tryout, me, sheet_id)
    else:
        mine = await entries_now(db, tryout, me, request.at)
        found = comes_next(mine)
        if found is None:
            raise Refusal(Reason.NO_SHEET_LEFT)
        entry = found
    check_may_mark(entry.changeable)
    return Open(form=words.sheet_form(entry, next_step(entry.rubric, entry.sheet.marks), request.id))


@view(ActionKey.SHEETS_STEP, "judge")
async def step(db: Snapshot, tryout: Tryout, request: Request, sheet_id: int, number: int) -> Answer:
    """Open one step of a sheet."""
    me = await me_as_judge(db, tryout, request)
    entry = await my_entry(db, tryout, me, sheet_id)
    check_may_mark(entry.changeable)
    return Open(form=words.sheet_form(entry, min(number, len(steps(entry.rubric)) - 1), request.id))


@act(ActionKey.SHEETS_SAVE, "judge")
async def save(
    db: Transaction, tryout: Tryout, request: Request, sheet_id: int, number: int, version: int, opening: int = 0
) -> Answer:
    """Save one step; the sheet is handed in as soon as every criterion is marked."""
    me = await me_as_judge(db, tryout, request)
    try:
        entry = await entry_of(db, tryout, sheet_id)
    except Refusal as refusal:
        raise Refusal(refusal.reason, entered=words.entered(*filled_in(tryout.plan, request.fields))) from None
    gone = entry.sheet.state == "recused"
    if entry.sheet.judge_id != me.id:
        raise Refusal(Reason.SHEET_GONE, entered="")
    parts = steps(entry.rubric)
    part = parts[min(number, len(parts) - 1)]
    marks, comments = read_step(part, request.fields)
    if gone or not entry.changeable:
        filled = [(criterion, marks[criterion.key]) for criterion in part.criteria if criterion.key in marks]
        entered = words.entered(filled, comments.values())
        raise Refusal(Reason.SHEET_GONE if gone else Reason.JUDGING_SHUT, entered=entered)
    overruled = await _overruled(db, entry, part.criteria, version, marks)
    new = with_step(part, (entry.sheet.marks, entry.sheet.comments), (marks, comments))
    last = number >= len(parts) - 1
    await keep_marks(db, tryout, request, entry, new, last)
    if entry.again and not last and is_whole(entry.rubric, new[0]):
        return Say(message=words.more_parts(entry, number))
    mine = await entries_now(db, tryout, me, request.at)
    now = next(one for one in mine if one.sheet.id == sheet_id)
    living = await live_messages.by_key(db, tryout.id, f"judge/{me.id}")
    if living is None or request.message_id is None or living.message_id != request.message_id:
        return Replace(message=words.sheet_saved(now, mine, overruled))
    if overruled or request.server_id is not None or not freely_edited(request.message_id, request.at):
        # The list itself is left to delivery: there is more to say, or it stands in a room of the class server, or
        # it is too old to be edited by every press.
        return Say(message=words.sheet_saved(now, mine, overruled))
    shown = await own_list(db, tryout, me)
    await shown_by_answer(db, living, shown, request.at)
    return Replace(message=shown)


@act(ActionKey.SHEETS_FINISH, "judge")
async def finish(db: Transaction, tryout: Tryout, request: Request, sheet_id: int) -> Answer:
    """Close a sheet that the coach had opened again, once every line is marked."""
    me = await me_as_judge(db, tryout, request)
    entry = await my_entry(db, tryout, me, sheet_id)
    if entry.again and entry.done:
        await reopen_after_close.shut_again(db, entry.sheet.id, request.at)
        await lists_changed(db, tryout, me.id)
        await audit(db, tryout, request, "sheet.finish", sheet=entry.sheet.id)
    return Replace(message=words.finished(entry))


async def keep_marks(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    entry: Entry,
    new: tuple[dict[str, int], dict[str, str]],
    last: bool = True,
) -> None:
    """Write a sheet's marks and comments as its next version; nothing is written when nothing has changed.

    A sheet that was opened again after the close is closed when it is whole and its `last` part has been saved.
    """
    marks, comments = new
    if (marks, comments) != (entry.sheet.marks, entry.sheet.comments):
        state = state_of(entry.rubric, marks)
        version = await score_sheets.save_sheet(db, entry.sheet, state, marks, comments, request.at)
        stamp = marks_fingerprint(entry.sheet.id, version, marks)
        await audit(db, tryout, request, "sheet.save", sheet=entry.sheet.id, version=version, state=state, seal=stamp)
    if closes_again(entry.rubric, marks, last):
        await reopen_after_close.shut_again(db, entry.sheet.id, request.at)
    await lists_changed(db, tryout, entry.sheet.judge_id)


async def _overruled(
    db: Snapshot, entry: Entry, criteria: tuple[Criterion, ...], version: int, entered: dict[str, int]
) -> list[tuple[Criterion, int, int]]:
    """Marks that were changed elsewhere while the form was open: criterion, level there, level entered here."""
    if version == entry.sheet.version:
        return []
    opened, _ = await score_sheets.content_at(db, entry.sheet.id, version)
    there = entry.sheet.marks
    return [
        (criterion, there[criterion.key], entered[criterion.key])
        for criterion in changed_elsewhere(criteria, opened, there, entered)
        if criterion.key in there
    ]
