"""The coach's side of judges: enrol them, look at one, set what their marks count for, let them go."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.followers import when_judges_change
from bot.actions.judging.invitation import ask_in_news
from bot.actions.judging.judges_overview import overview
from bot.actions.judging.open_judging import open_names, tell_sheets_out
from bot.actions.judging.picked_judge import judge_of_tryout, picked_judge
from bot.actions.judging.sheet_queries import all_entries, check_not_closed, lists_changed
from bot.actions.judging.sheets_follow_panels import assign_sheets
from bot.actions.squads.exclusive_roles import check_may_help
from bot.rules.judging.judges_admin import asked_in_news, check_is_person, number_of, weight_of
from bot.rules.judging.reopen_after_close import is_offered
from bot.words.core.action_keys import ActionKey
from bot.words.judging import judges_admin as words
from storage.records.message import Answer, Message, Replace
from storage.records.people import Judge
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges
from storage.tables.sql_session import Snapshot, Transaction


async def enrol(db: Transaction, tryout_id: int, platform_id: int, name: str) -> int:
    """Enter a judge, or one who was removed once more. Returns the id."""
    known = await judges.ever_judge(db, tryout_id, platform_id)
    number = number_of(known, await judges.last_number(db, tryout_id))
    if known is not None:
        await judges.restore(db, known.id, number, name)
        return known.id
    return await judges.add(db, tryout_id, number, platform_id, name)


@act(ActionKey.JUDGES_ADD, "coach")
async def add(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Enrol the people who were picked, and ask them to judge; one who was removed comes back with the marks made."""
    check_not_closed(tryout)
    await check_may_help(db, tryout, request.people)
    new = []
    for person in request.people:
        check_is_person(person)
        if await judges.judge_of(db, tryout.id, person.id) is None:
            judge_id = await enrol(db, tryout.id, person.id, person.name)
            new.append(await judge_of_tryout(db, tryout, judge_id))
            await audit(db, tryout, request, "judge.add", judge=judge_id)
    if fresh := asked_in_news(new):
        await ask_in_news(db, tryout, fresh, request.at)
    await assign_sheets(db, tryout, request.at)
    for judge in new:
        await tell_sheets_out(db, tryout, judge, await open_names(db, tryout), request.at)
        await lists_changed(db, tryout, judge.id)
    return Replace(message=await overview(db, tryout))


@view(ActionKey.JUDGES_ONE, "coach")
async def one(
    db: Snapshot, tryout: Tryout, request: Request, judge_id: int | None = None, *, picked: int | None = None
) -> Answer:
    """Show one judge and what can be done."""
    return Replace(message=await _one(db, tryout, await picked_judge(db, tryout, request, picked or judge_id)))


async def _one(db: Snapshot, tryout: Tryout, judge: Judge) -> Message:
    mine = [entry for entry in await all_entries(db, tryout) if entry.sheet.judge_id == judge.id]
    return words.one(judge, mine, closed=is_offered(tryout.state))


@act(ActionKey.JUDGES_SHOWN_ONLY, "coach")
async def shown_only(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    judge_id: int | None = None,
    counts: bool | None = None,
    *,
    picked: int | None = None,
) -> Answer:
    """Let a judge's marks be shown only, or let them count again; `counts` is what the button said."""
    check_not_closed(tryout)
    judge = await picked_judge(db, tryout, request, picked or judge_id)
    counts = judge.weight == 0 if counts is None else counts
    if counts != (judge.weight > 0):
        weight = weight_of(counts)
        await judges.set_weight(db, judge.id, weight)
        await audit(db, tryout, request, "judge.weight", judge=judge.id, weight=weight)
    return Replace(message=await _one(db, tryout, await judge_of_tryout(db, tryout, judge.id)))


@view(ActionKey.JUDGES_REMOVE, "coach")
async def sure_to_remove(
    db: Snapshot, tryout: Tryout, request: Request, judge_id: int | None = None, *, picked: int | None = None
) -> Answer:
    """Ask once more before a judge is let go."""
    check_not_closed(tryout)
    judge = await picked_judge(db, tryout, request, picked or judge_id)
    mine = [entry for entry in await all_entries(db, tryout) if entry.sheet.judge_id == judge.id]
    return Replace(message=words.sure_to_remove(judge, mine))


@act(ActionKey.JUDGES_REMOVED, "coach")
async def remove(
    db: Transaction, tryout: Tryout, request: Request, judge_id: int | None = None, *, picked: int | None = None
) -> Answer:
    """Let a judge go: the sheets are kept and count no more."""
    check_not_closed(tryout)
    judge = await picked_judge(db, tryout, request, picked or judge_id)
    await judges.remove(db, judge.id)
    await lists_changed(db, tryout, judge.id)
    await when_judges_change.tell(db, tryout, request.at)
    await audit(db, tryout, request, "judge.remove", judge=judge.id)
    return Replace(message=await overview(db, tryout))
