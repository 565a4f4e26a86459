"""Typing paper sheets in: twice, compared, and settled from the paper before anything counts."""

from collections.abc import Mapping

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.judging.score_sheet import keep_marks
from bot.actions.judging.sheet_queries import all_entries, entries_of, entry_of
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging import paper_sheet_entry as rules
from bot.rules.judging.my_sheets import Entry
from bot.rules.judging.score_sheet import is_whole, missing, next_step, read_level, read_step, steps, with_step
from bot.words.core.action_keys import ActionKey
from bot.words.judging import paper_sheet_entry as words
from bot.words.judging.my_sheets import state
from storage.records.judging import PaperEntry
from storage.records.message import Answer, Form, Message, Open, Replace
from storage.records.people import Judge
from storage.records.plan_measures import Criterion
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, outbox, paper_sheet_entry
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PAPER_ENTER, "typist")
async def enter(db: Snapshot, tryout: Tryout, request: Request, page: int = 0) -> Answer:
    """Ask whose paper sheets are typed in."""
    owed = await _missing(db, tryout)
    people = [(judge, len(owed[judge.id])) for judge in await judges.judges(db, tryout.id) if judge.id in owed]
    return Replace(message=words.pick_judge(people, page))


@view(ActionKey.PAPER_ENTER_JUDGE, "typist")
async def enter_judge(db: Snapshot, tryout: Tryout, request: Request, page: int = 0, *, picked: int) -> Answer:
    """Ask which squad stands on the paper."""
    return Replace(message=await _pick_sheet(db, tryout, picked, page))


@view(ActionKey.PAPER_ENTER_PAGE, "typist")
async def enter_page(db: Snapshot, tryout: Tryout, request: Request, page: int, judge_id: int) -> Answer:
    """More squads of the same judge."""
    return Replace(message=await _pick_sheet(db, tryout, judge_id, page))


async def _pick_sheet(db: Snapshot, tryout: Tryout, judge_id: int, page: int) -> Message:
    judge = await judges.judge(db, judge_id)
    if judge is None or judge.removed or judge.tryout_id != tryout.id:
        raise Refusal(Reason.NOT_A_JUDGE)
    mine = (await _missing(db, tryout)).get(judge_id, [])
    return words.pick_sheet(judge, mine, await paper_sheet_entry.numbers(db, tryout.id), page)


async def _missing(db: Snapshot, tryout: Tryout) -> Mapping[int, list[Entry]]:
    """The sheets in which nothing was marked here, by judge."""
    found: dict[int, list[Entry]] = {}
    for entry in await all_entries(db, tryout):
        if rules.is_missing(entry):
            found.setdefault(entry.sheet.judge_id, []).append(entry)
    return found


@view(ActionKey.PAPER_ENTRY, "typist")
async def pick(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Open the picked sheet: the first entry, or the second when the first is whole."""
    entry, _ = await _to_enter(db, tryout, request, picked)
    kept = await paper_sheet_entry.entries(db, entry.sheet.id)
    number = rules.next_entry(entry.rubric, kept, request.who)
    return Open(form=_form(entry, kept, number, request))


@view(ActionKey.PAPER_STEP, "typist")
async def step(db: Snapshot, tryout: Tryout, request: Request, sheet_id: int, number: int) -> Answer:
    """Go on typing the first or the second entry."""
    entry, _ = await _to_enter(db, tryout, request, sheet_id)
    kept = await paper_sheet_entry.entries(db, entry.sheet.id)
    return Open(form=_form(entry, kept, number, request))


def _form(entry: Entry, kept: list[PaperEntry], number: int, request: Request) -> Form:
    marks = rules.stands_in_form(kept, number, request.who)
    return words.entry_form(entry, number, next_step(entry.rubric, marks), marks, request.id)


@act(ActionKey.PAPER_SAVE, "typist")
async def save(
    db: Transaction, tryout: Tryout, request: Request, sheet_id: int, number: int, at: int, opening: int = 0
) -> Answer:
    """Keep one step of an entry; when both entries are whole they are compared."""
    entry, judge = await _to_enter(db, tryout, request, sheet_id)
    kept = {one.number: one for one in await paper_sheet_entry.entries(db, sheet_id)}
    old = rules.gone_on_from(entry.rubric, number, kept, request.who)
    old = old or PaperEntry(sheet_id=sheet_id, number=number, entered_by=request.who, at=request.at)
    parts = steps(entry.rubric)
    part = parts[min(at, len(parts) - 1)]
    marks, comments = with_step(part, (old.marks, old.comments), read_step(part, request.fields))
    new = old.model_copy(update={"marks": marks, "comments": comments, "entered_by": request.who, "at": request.at})
    await paper_sheet_entry.keep(db, new)
    await audit(db, tryout, request, "paper.entry", sheet=sheet_id, number=number)
    if not is_whole(entry.rubric, marks):
        left = [one.name for one in missing(entry.rubric, marks)]
        return Replace(message=words.go_on(entry, judge, number, left))
    if number == 1:
        return Replace(message=words.once(entry, judge))
    return await _compare(db, tryout, request, entry, judge, kept[1], new)


async def _compare(
    db: Transaction, tryout: Tryout, request: Request, entry: Entry, judge: Judge, first: PaperEntry, second: PaperEntry
) -> Answer:
    found = rules.differences(entry.rubric, first, second)
    if found:
        return Replace(message=words.differ(entry, judge, found))
    return await _keep_typed(db, tryout, request, entry, judge, rules.what_counts(first, second, {}))


@view(ActionKey.PAPER_SETTLE, "typist")
async def settle(db: Snapshot, tryout: Tryout, request: Request, sheet_id: int) -> Answer:
    """Open a form with only what differs."""
    entry, _ = await _to_enter(db, tryout, request, sheet_id)
    first, second = await _both(db, entry)
    criteria = rules.to_settle(rules.differences(entry.rubric, first, second))
    return Open(form=words.settle_form(entry, criteria, request.id))


@act(ActionKey.PAPER_SETTLED, "typist")
async def settled(db: Transaction, tryout: Tryout, request: Request, sheet_id: int, opening: int = 0) -> Answer:
    """Save the sheet with what the third look at the paper gave."""
    entry, judge = await _to_enter(db, tryout, request, sheet_id)
    first, second = await _both(db, entry)
    found = rules.differences(entry.rubric, first, second)
    looked_at = {one.key: read_level(one, level) for one, _, _ in found if (level := _level(request, one))}
    if len(looked_at) < len(found):
        return Replace(message=words.differ(entry, judge, found))
    await audit(db, tryout, request, "paper.settle", sheet=entry.sheet.id, differences=len(found))
    return await _keep_typed(db, tryout, request, entry, judge, rules.what_counts(first, second, looked_at), True)


def _level(request: Request, criterion: Criterion) -> str:
    return request.fields.get(f"level-{criterion.key}", "")


async def _keep_typed(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    entry: Entry,
    judge: Judge,
    typed: tuple[dict[str, int], dict[str, str]],
    settled: bool = False,
) -> Answer:
    """Save a sheet that was typed in; its judge and the office are told, so that nobody marks in another's name."""
    await keep_marks(db, tryout, request, entry, typed)
    told = rules.is_told(judge, request.who)
    if told:
        await outbox.enqueue(db, tryout.id, f"judge/{judge.id}", words.typed_for_you(entry), request.at)
    await outbox.enqueue(db, tryout.id, "office", words.typed_in(entry, judge, told), request.at)
    return Replace(message=words.paper_entry_saved(entry, judge, settled))


@act(ActionKey.PAPER_AGAIN, "typist")
async def again(db: Transaction, tryout: Tryout, request: Request, sheet_id: int) -> Answer:
    """Throw both entries away and begin anew."""
    entry, judge = await _to_enter(db, tryout, request, sheet_id)
    await paper_sheet_entry.start_over(db, entry.sheet.id)
    await audit(db, tryout, request, "paper.again", sheet=entry.sheet.id)
    return Replace(message=words.started_over(entry, judge))


async def _both(db: Snapshot, entry: Entry) -> tuple[PaperEntry, PaperEntry]:
    return rules.both(entry.rubric, await paper_sheet_entry.entries(db, entry.sheet.id))


async def _to_enter(db: Snapshot, tryout: Tryout, request: Request, sheet_id: int) -> tuple[Entry, Judge]:
    """A sheet that may be typed in by the person who asks, and its judge."""
    entry = await entry_of(db, tryout, sheet_id)
    judge = await judges.judge(db, entry.sheet.judge_id)
    if judge is None or judge.removed:
        raise Refusal(Reason.NOT_A_JUDGE)
    me = await judges.judge_of(db, tryout.id, request.who)
    mine = [] if me is None else await entries_of(db, tryout, me)
    may_see = rules.may_see_marks(judge, request.who, mine, entry.squad.id)
    rules.check_may_type(entry, judge, may_see, state(entry))
    return entry, judge
