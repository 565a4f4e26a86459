"""A judge's own list of sheets: see it, open a sheet, save it step by step."""

from datetime import datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.live_messages import live_message, shown_by_answer
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.judging.calibration import waiting
from bot.actions.judging.sheet_queries import entries_now, entries_of, entry_of, lists_changed, me_as_judge, my_entry
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.snowflakes import freely_edited
from bot.rules.judging.marks_fingerprint import marks_fingerprint
from bot.rules.judging.sheet_forms import (
    Entry,
    changed_elsewhere,
    filled_in,
    go_on,
    is_whole,
    next_open,
    next_step,
    read_step,
    steps,
    with_step,
)
from bot.rules.judging.typed_marks import target
from bot.words.core.action_keys import ActionKey
from bot.words.judging import sheet_forms as words
from bot.words.judging import worklist
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.people import Judge
from storage.records.plan_measures import Criterion
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, live_messages, sheet_for_typed_marks, tryout_of_judge
from storage.tables import open_events_and_sheets as judging_table
from storage.tables.sql_session import Snapshot, Transaction


@live_message("judge")
async def living_list(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """What the live message `judge/ID` shows; nothing for a judge who was removed."""
    judge = await judges.judge(db, int(key.partition("/")[2]))
    return None if judge is None or judge.removed else await own_worklist(db, tryout, judge)


@view(ActionKey.SHEETS_LIST, "judge")
async def my_list(db: Snapshot, tryout: Tryout, request: Request, page: int | None = None) -> Answer:
    """Show my sheets, here and now; a page of the list when one is asked for."""
    me = await me_as_judge(db, tryout, request)
    if page is not None:
        return Replace(message=await own_worklist(db, tryout, me, page, request.at))
    return Say(message=await own_worklist(db, tryout, me, now=request.at))


async def own_worklist(
    db: Snapshot, tryout: Tryout, judge: Judge, page: int = 0, now: datetime | None = None
) -> Message:
    """A judge's living list as it is; asked for `now`, the squad that is before the judge comes first."""
    plain = await entries_of(db, tryout, judge)
    mine = plain if now is None else await entries_now(db, tryout, judge, now)
    typed = target(plain, await sheet_for_typed_marks.chosen(db, judge.id)) if judge.direct_closed_at is None else None
    trial = await waiting(db, tryout, judge.id)
    others = await other_tryouts(db, tryout, judge)
    return worklist.worklist(tryout, mine, schedule_of(tryout), page, typed, trial, others)


async def other_tryouts(db: Snapshot, tryout: Tryout, judge: Judge) -> list[Tryout]:
    """The try-outs in which a judge judges besides this one, on other class servers."""
    return [one for one in await tryout_of_judge.tryouts_judged_by(db, judge.platform_id) if one.id != tryout.id]


@act(ActionKey.SHEETS_SWITCH, "judge")
async def switch(db: Transaction, tryout: Tryout, request: Request, tryout_id: int) -> Answer:
    """A judge of several try-outs says which one the private messages are about from now on."""
    me = await me_as_judge(db, tryout, request)
    if tryout_id != tryout.id:
        raise Refusal(Reason.OUT_OF_DATE)
    await tryout_of_judge.choose_tryout(db, me.id, request.at)
    return Say(message=await own_worklist(db, tryout, me))


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
        found = go_on(mine) or next_open(mine)
        if found is None:
            raise Refusal(Reason.NO_SHEET_LEFT)
        entry = found
    if not entry.changeable:
        raise Refusal(Reason.JUDGING_SHUT, entered="")
    return Open(form=words.sheet_form(entry, next_step(entry.rubric, entry.sheet.marks), request.id))


@view(ActionKey.SHEETS_STEP, "judge")
async def step(db: Snapshot, tryout: Tryout, request: Request, sheet_id: int, number: int) -> Answer:
    """Open one step of a sheet."""
    me = await me_as_judge(db, tryout, request)
    entry = await my_entry(db, tryout, me, sheet_id)
    if not entry.changeable:
        raise Refusal(Reason.JUDGING_SHUT, entered="")
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
    await worklist_keep(db, tryout, request, entry, new, last)
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
    shown = await own_worklist(db, tryout, me)
    await shown_by_answer(db, living, shown, request.at)
    return Replace(message=shown)


@act(ActionKey.SHEETS_FINISH, "judge")
async def finish(db: Transaction, tryout: Tryout, request: Request, sheet_id: int) -> Answer:
    """Close a sheet that the coach had opened again, once every line is marked."""
    me = await me_as_judge(db, tryout, request)
    entry = await my_entry(db, tryout, me, sheet_id)
    if entry.again and entry.done:
        await judging_table.shut_again(db, entry.sheet.id, request.at)
        await lists_changed(db, tryout, me.id)
        await audit(db, tryout, request, "sheet.finish", sheet=entry.sheet.id)
    return Replace(message=words.finished(entry))


async def worklist_keep(
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
    whole = is_whole(entry.rubric, marks)
    if (marks, comments) != (entry.sheet.marks, entry.sheet.comments):
        state = "submitted" if whole else "started"
        version = await judges.save_sheet(db, entry.sheet, state, marks, comments, request.at)
        stamp = marks_fingerprint(entry.sheet.id, version, marks)
        await audit(db, tryout, request, "sheet.save", sheet=entry.sheet.id, version=version, state=state, seal=stamp)
    if whole and last:
        await judging_table.shut_again(db, entry.sheet.id, request.at)
    await lists_changed(db, tryout, entry.sheet.judge_id)


async def _overruled(
    db: Snapshot, entry: Entry, criteria: tuple[Criterion, ...], version: int, entered: dict[str, int]
) -> list[tuple[Criterion, int, int]]:
    """Marks that were changed elsewhere while the form was open: criterion, level there, level entered here."""
    if version == entry.sheet.version:
        return []
    opened, _ = await judges.content_at(db, entry.sheet.id, version)
    there = entry.sheet.marks
    return [
        (criterion, there[criterion.key], entered[criterion.key])
        for criterion in changed_elsewhere(criteria, opened, there, entered)
        if criterion.key in there
    ]
