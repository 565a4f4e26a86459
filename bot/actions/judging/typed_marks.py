"""Judges may type their marks into the direct messages instead of pressing: "3", or "3 4 2"."""

from collections.abc import Sequence

from bot.actions.core.dispatch import act
from bot.actions.judging.my_sheets import other_tryouts, own_list
from bot.actions.judging.score_sheet import keep_marks
from bot.actions.judging.sheet_queries import entries_of, lists_changed, me_as_judge, my_entry
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging import typed_marks as rules
from bot.rules.judging.my_sheets import Entry
from bot.words.core.action_keys import ActionKey
from bot.words.judging import typed_marks as words
from bot.words.judging.tryout_of_judge import in_tryout
from storage.records.message import Answer, Message, Say
from storage.records.people import Judge
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import score_sheets, tryout_of_judge, typed_marks
from storage.tables.sql_session import Transaction


@act(ActionKey.SHEETS_TYPED, "judge")
async def typed(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Deal with what a judge typed; the text stands in the field `text`."""
    me = await me_as_judge(db, tryout, request)
    message = await _typed(db, tryout, request, me)
    others = await other_tryouts(db, tryout, me)
    return Say(message=in_tryout(message, tryout, others) if others else message)


async def _typed(db: Transaction, tryout: Tryout, request: Request, me: Judge) -> Message:
    mine = await entries_of(db, tryout, me)
    now = rules.target(mine, await typed_marks.chosen(db, me.id))
    said = rules.read_typed(request.fields.get("text", ""))
    match said.asked:
        case "levels":
            return await _mark(db, tryout, request, me, now, said.levels)
        case "comment":
            return await _comment(db, tryout, request, mine, said.comment)
        case "undo":
            return await _undo(db, tryout, request, me, mine)
        case "next":
            return await _next(db, me, mine, now)
        case "list":
            return await own_list(db, tryout, me)
    return words.usage(now)


@act(ActionKey.SHEETS_TYPE, "judge")
async def typed_marks_begin(db: Transaction, tryout: Tryout, request: Request, sheet_id: int) -> Answer:
    """Choose the sheet into which typed numbers go, and say what the first one is for."""
    me = await me_as_judge(db, tryout, request)
    entry = await my_entry(db, tryout, me, sheet_id)
    rules.check_begins(entry)
    await typed_marks.choose(db, me.id, entry.sheet.id)
    if request.server_id is None:
        await tryout_of_judge.choose_tryout(db, me.id, request.at)
    await lists_changed(db, tryout, me.id)
    return Say(message=words.prompt(entry))


async def _mark(
    db: Transaction, tryout: Tryout, request: Request, me: Judge, entry: Entry | None, levels: Sequence[int]
) -> Message:
    if entry is None:
        raise Refusal(Reason.TYPED_NOTHING)
    marks = rules.marks_of(entry, levels)
    new = {**entry.sheet.marks, **{criterion.key: level for criterion, level in marks}}
    await keep_marks(db, tryout, request, entry, (new, entry.sheet.comments))
    mine = await entries_of(db, tryout, me)
    now = next(one for one in mine if one.sheet.id == entry.sheet.id)
    following = rules.goes_on(mine, now)
    if following is None:
        await typed_marks.forget(db, me.id)
    else:
        await typed_marks.choose(db, me.id, following.sheet.id)
    return words.typed_marks_saved(entry, marks, now, following)


async def _comment(db: Transaction, tryout: Tryout, request: Request, mine: Sequence[Entry], comment: str) -> Message:
    """Add a comment to what was marked last, below one that is there."""
    entry, about = rules.comment_on(mine)
    there = entry.sheet.comments.get(about, "")
    text = rules.comment_below(there, comment)
    await keep_marks(db, tryout, request, entry, (entry.sheet.marks, {**entry.sheet.comments, about: text}))
    return words.commented(entry, added=bool(there))


async def _undo(db: Transaction, tryout: Tryout, request: Request, me: Judge, mine: Sequence[Entry]) -> Message:
    """Take the last saved change back; that is a new version too, so that nothing is lost."""
    entry = rules.to_undo(mine)
    await keep_marks(
        db, tryout, request, entry, await score_sheets.content_at(db, entry.sheet.id, entry.sheet.version - 1)
    )
    now = next(one for one in await entries_of(db, tryout, me) if one.sheet.id == entry.sheet.id)
    if (following := rules.after_undo(now)) is not None:
        await typed_marks.choose(db, me.id, following.sheet.id)
    return words.undone(now)


async def _next(db: Transaction, me: Judge, mine: Sequence[Entry], now: Entry | None) -> Message:
    """Go on with another squad."""
    following = rules.another(mine, now)
    await typed_marks.choose(db, me.id, following.sheet.id)
    return words.prompt(following)
