"""The coach decides who sees whom: how many judges a squad, computed or set by hand."""

from collections.abc import Callable

from bot.actions.core.arguments import given
from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.judging.compute_panel import keep_panel, names_of, problem_of
from bot.actions.judging.sheet_queries import lists_changed
from bot.actions.judging.sheets_follow_panels import assign_sheets, judges_per_squad, tied_seats
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging import panels as rules
from bot.rules.judging.compute_panel import Obstacle, Panel, Problem, assign, describe
from bot.rules.judging.judged_rubrics import picked_rubric, rubric_of, rubrics
from bot.words.core.action_keys import ActionKey
from bot.words.core.choices import PAGE
from bot.words.judging import panels as words
from storage.records.judging import Seat
from storage.records.message import Answer, Message, Replace
from storage.records.plan import Event
from storage.records.plan_measures import Rubric
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, panels, score_sheets, squads
from storage.tables.sql_session import Snapshot, Transaction

Drawn = tuple[Problem | None, Panel | Obstacle | None]


@view(ActionKey.PANELS_PANEL, "coach")
async def panels_panel(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show who sees whom, or ask first for which part."""
    judged = list(rubrics(tryout.plan))
    if not judged:
        raise Refusal(Reason.RUBRIC_GONE)
    if len(judged) > 1:
        return Replace(message=words.pick_rubric(judged))
    return Replace(message=await _table(db, tryout, judged[0]))


@view(ActionKey.PANELS_TABLE, "coach")
async def table(
    db: Snapshot, tryout: Tryout, request: Request, event_key: str = "", measure_key: str = "", *, picked: str = ""
) -> Answer:
    """Show who sees whom under one rubric."""
    what = picked_rubric(tryout.plan, picked) if picked else rubric_of(tryout.plan, event_key, measure_key)
    return Replace(message=await _table(db, tryout, what))


@view(ActionKey.PANELS_PAGE, "coach")
async def page(db: Snapshot, tryout: Tryout, request: Request, number: int, event_key: str, measure_key: str) -> Answer:
    """Another page of the table."""
    return Replace(message=await _table(db, tryout, rubric_of(tryout.plan, event_key, measure_key), number))


async def _table(db: Snapshot, tryout: Tryout, what: tuple[Event, Rubric], page: int = 0) -> Message:
    event, rubric = what
    everyone = await judges.judges(db, tryout.id)
    taking_part = await squads.squads(db, tryout.id)
    seats = await panels.seats(db, tryout.id, event.key, rubric.key)
    counted = [judge.id for judge in rules.counted(everyone)]
    found = describe([one.id for one in taking_part], counted, [(one.squad_id, one.judge_id) for one in seats])
    pinned = [(one.squad_id, one.judge_id) for one in seats if one.pinned]
    size = await judges_per_squad(db, tryout, event, rubric)
    return words.table(what, size, (taking_part, everyone), found, pinned, page)


async def _draw(
    db: Snapshot, tryout: Tryout, request: Request, event_key: str, measure_key: str, *, picked: int | None = None
) -> Callable[[], Drawn]:
    """Compute the panel that is asked for; a size that is picked is tried out first."""
    event, rubric = rubric_of(tryout.plan, event_key, measure_key)
    asked = None if picked == 0 else await problem_of(db, tryout, event, rubric, picked)
    return lambda: (asked, assign(asked) if asked is not None else None)


@act(ActionKey.PANELS_SIZE, "coach", before=_draw)
async def choose_size(
    db: Transaction, tryout: Tryout, request: Request, event_key: str, measure_key: str, *, picked: int, prepared: Drawn
) -> Answer:
    """Choose how many judges see each squad, and share them out at once."""
    what = event, rubric = rubric_of(tryout.plan, event_key, measure_key)
    asked, found = prepared
    if isinstance(found, Obstacle):
        return Replace(message=words.stuck(event, found, await names_of(db, tryout)))
    await panels.set_size(db, tryout.id, event.key, rubric.key, picked)
    await audit(db, tryout, request, "panel.size", event=event.key, measure=rubric.key, judges=picked)
    return await _keep(db, tryout, request, what, asked, found)


@act(ActionKey.PANELS_COMPUTE, "coach", before=_draw)
async def compute(
    db: Transaction, tryout: Tryout, request: Request, event_key: str, measure_key: str, *, prepared: Drawn
) -> Answer:
    """Share the judges out; what was set by hand, or begun, stays."""
    asked, found = prepared
    what = event, _ = rubric_of(tryout.plan, event_key, measure_key)
    if asked is None:
        raise Refusal(Reason.PANEL_ALL)
    if isinstance(found, Obstacle):
        return Replace(message=words.stuck(event, found, await names_of(db, tryout)))
    return await _keep(db, tryout, request, what, asked, found)


async def _keep(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    what: tuple[Event, Rubric],
    asked: Problem | None,
    found: Panel | None,
) -> Answer:
    event, rubric = what
    if asked is not None and found is not None:
        if await problem_of(db, tryout, event, rubric) != asked:
            raise Refusal(Reason.PANEL_MOVED)
        await keep_panel(db, tryout, event, rubric, found)
        await audit(db, tryout, request, "panel.compute", event=event.key, measure=rubric.key, seats=len(found.seats))
    await _dealt(db, tryout, request)
    return Replace(message=await _table(db, tryout, (event, rubric)))


async def _dealt(db: Transaction, tryout: Tryout, request: Request) -> None:
    await assign_sheets(db, tryout, request.at)
    await lists_changed(db, tryout)


@view(ActionKey.PANELS_SQUAD, "coach")
async def squad(  # noqa: PLR0913
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    event_key: str,
    measure_key: str,
    squad_id: int | None = None,
    page: int = 0,
    *,
    picked: int | None = None,
) -> Answer:
    """Show who marks one squad, to set it by hand."""
    wanted = given(picked, squad_id)
    event, rubric = rubric_of(tryout.plan, event_key, measure_key)
    taking_part = {one.id: one for one in await squads.squads(db, tryout.id)}
    if wanted not in taking_part:
        raise Refusal(Reason.PANEL_MOVED)
    one = taking_part[wanted]
    seats = await panels.seats(db, tryout.id, event.key, rubric.key)
    seated = [seat.judge_id for seat in seats if seat.squad_id == one.id]
    tied = [judge for squad_id, judge in await tied_seats(db, tryout) if squad_id == one.id]
    return Replace(message=words.squad((event, rubric), one, await judges.judges(db, tryout.id), seated, tied, page))


@act(ActionKey.PANELS_SET, "coach")
async def set_squad(  # noqa: PLR0913, PLR0917
    db: Transaction,
    tryout: Tryout,
    request: Request,
    event_key: str,
    measure_key: str,
    squad_id: int,
    page: int | None = None,
    stamp: str = "",
    *,
    picked: tuple[int, ...],
) -> Answer:
    """Set the judges of one squad by hand, of one page, if they are as shown; judges who have begun stay on it."""
    event, rubric = rubric_of(tryout.plan, event_key, measure_key)
    one = await squads.squad(db, squad_id)
    everyone = {judge.id: judge for judge in await judges.judges(db, tryout.id)}
    if one is None or one.tryout_id != tryout.id or not everyone.keys() >= set(picked):
        raise Refusal(Reason.PANEL_MOVED)
    tied = await tied_seats(db, tryout)
    rules.check_may_sit(picked, everyone, one, tied)
    begun = [
        sheet.judge_id
        for sheet in await score_sheets.sheets(db, tryout.id)
        if (sheet.squad_id, sheet.event, sheet.measure) == (squad_id, event.key, rubric.key) and rules.has_begun(sheet)
    ]
    free = [judge for judge in everyone if (squad_id, judge) not in tied]
    shown = free if page is None else free[page * PAGE :][:PAGE]
    there = {
        seat.judge_id: seat.pinned
        for seat in await panels.seats(db, tryout.id, event.key, rubric.key)
        if seat.squad_id == squad_id
    }
    if stamp != words.stamp_of([everyone[judge] for judge in free], there, page or 0):
        away = [judge for judge in everyone if judge not in free]
        again = words.squad((event, rubric), one, list(everyone.values()), there, away, page or 0, changed=True)
        return Replace(message=again)
    may_stay = {judge: pinned for judge, pinned in there.items() if judge in free}
    seats = [
        Seat(judge_id=judge, squad_id=squad_id, event=event.key, measure=rubric.key, pinned=pinned)
        for judge, pinned in rules.seats_by_hand(picked, begun, may_stay, shown).items()
    ]
    await panels.replace_seats(db, tryout.id, event.key, rubric.key, seats, squad_id)
    await audit(db, tryout, request, "panel.set", event=event.key, measure=rubric.key, squad=squad_id, judges=picked)
    await _dealt(db, tryout, request)
    return Replace(message=await _table(db, tryout, (event, rubric)))


@act(ActionKey.PANELS_UNPIN, "coach")
async def unpin(db: Transaction, tryout: Tryout, request: Request, event_key: str, measure_key: str) -> Answer:
    """Let go of everything that was set by hand; it may be changed when the panel is computed again."""
    event, rubric = rubric_of(tryout.plan, event_key, measure_key)
    await panels.unpin(db, tryout.id, event.key, rubric.key)
    await audit(db, tryout, request, "panel.unpin", event=event.key, measure=rubric.key)
    return Replace(message=await _table(db, tryout, (event, rubric)))
