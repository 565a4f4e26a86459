"""Ties of interest: nobody marks a squad in which they know someone; another judge takes over."""

from collections.abc import Sequence
from datetime import datetime

from bot.actions.core.arguments import given
from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.judging.sheet_assignment import assign_sheets, judges_per_squad, tied_seats
from bot.actions.judging.sheet_queries import check_not_closed, entries_of, lists_changed, me_as_judge
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.conflicts_of_interest import stand_in
from bot.rules.judging.judged_rubrics import rubrics
from bot.words.core.action_keys import ActionKey
from bot.words.judging import conflicts_of_interest as words
from storage.records.judging import Seat
from storage.records.message import Answer, Message, Replace, Say
from storage.records.people import Judge, Squad
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, open_events_and_sheets, outbox, panels, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.SHEETS_TIE, "judge")
async def which(db: Snapshot, tryout: Tryout, request: Request, page: int | None = None) -> Answer:
    """Ask a judge in which squad they know someone."""
    me = await me_as_judge(db, tryout, request)
    tied = {squad for squad, judge in await tied_seats(db, tryout) if judge == me.id}
    done = {sheet.squad_id for sheet in await judges.sheets_of(db, me.id) if sheet.state == "submitted"}
    open_to = [squad for squad in await squads.squads(db, tryout.id) if squad.id not in tied | done]
    if page is not None:
        return Replace(message=words.which(open_to, page))
    return Say(message=words.which(open_to, 0))


@view(ActionKey.SHEETS_TIE_ASK, "judge")
async def conflicts_sure(
    db: Snapshot, tryout: Tryout, request: Request, squad_id: int | None = None, *, picked: int | None = None
) -> Answer:
    """Ask once before a judge steps back."""
    me, squad = await _stepping_back(db, tryout, request, given(picked, squad_id))
    marked = any(sheet.squad_id == squad.id and sheet.version for sheet in await judges.sheets_of(db, me.id))
    return Replace(message=words.conflicts_sure(squad, marked))


@act(ActionKey.SHEETS_TIED, "judge")
async def step_back(
    db: Transaction, tryout: Tryout, request: Request, squad_id: int | None = None, *, picked: int | None = None
) -> Answer:
    """A judge knows someone in a squad: the sheets are set aside, and another judge takes over."""
    me, squad = await _stepping_back(db, tryout, request, given(picked, squad_id))
    instead = await note_ties(db, tryout, request, [(me, squad)], "judge")
    await outbox.enqueue(db, tryout.id, "office", words.stepped_back(me, squad, instead), request.at)
    return Replace(message=words.thanks(squad))


async def _stepping_back(db: Snapshot, tryout: Tryout, request: Request, squad_id: int) -> tuple[Judge, Squad]:
    me = await me_as_judge(db, tryout, request)
    squad = await _squad(db, tryout, squad_id)
    if (squad.id, me.id) in await tied_seats(db, tryout):
        raise Refusal(Reason.TIE_KNOWN, squad=squad.name)
    if any(sheet.squad_id == squad.id and sheet.state == "submitted" for sheet in await judges.sheets_of(db, me.id)):
        raise Refusal(Reason.TIE_TOO_LATE, squad=squad.name)
    return me, squad


@view(ActionKey.TIES_PANEL, "coach")
async def conflicts_panel(db: Snapshot, tryout: Tryout, request: Request, page: int = 0) -> Answer:
    """Show all ties to the coach."""
    return Replace(message=await _panel(db, tryout, page))


async def _panel(db: Snapshot, tryout: Tryout, page: int = 0, done: str = "") -> Message:
    taking_part = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    return words.conflicts_panel(
        await judges.judges(db, tryout.id), taking_part, await panels.ties(db, tryout.id), page, done
    )


@view(ActionKey.TIES_JUDGE, "coach")
async def of_judge(
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    page: int = 0,
    judge_id: int | None = None,
    *,
    picked: int | None = None,
) -> Answer:
    """Show one judge's ties, to set them; a button of another page carries page and judge."""
    judge = await _judge(db, tryout, given(picked, judge_id))
    tied = [squad for squad, other in await tied_seats(db, tryout) if other == judge.id]
    return Replace(message=words.of_judge(judge, await squads.squads(db, tryout.id), tied, page))


@act(ActionKey.TIES_SET, "coach")
async def set_ties(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    judge_id: int,
    page: int,
    stamp: str = "",
    *,
    picked: tuple[int, ...],
) -> Answer:
    """Set a judge's ties among the squads of one page, if it is as it was shown; sheets follow, also handed-in ones."""
    check_not_closed(tryout)
    judge = await _judge(db, tryout, judge_id)
    tied = await tied_seats(db, tryout)
    taking_part, mine = await squads.squads(db, tryout.id), {squad for squad, other in tied if other == judge.id}
    if stamp != words.stamp_of(words.on_page(taking_part, page), mine):
        return Replace(message=words.of_judge(judge, taking_part, mine, page, changed=True))
    new: list[tuple[Judge, Squad]] = []
    for squad in words.on_page(taking_part, page):
        if squad.id in picked and (squad.id, judge.id) not in tied:
            new.append((judge, squad))
        elif squad.id not in picked and (squad.id, judge.id) in tied:
            await panels.untie(db, judge.id, squad.id)
            await audit(db, tryout, request, "tie.gone", judge=judge.id, squad=squad.id)
    instead = await note_ties(db, tryout, request, new, "coach")
    return Replace(message=await _panel(db, tryout, done=words.took_over(instead).strip()))


async def note_ties(
    db: Transaction, tryout: Tryout, request: Request, ties: Sequence[tuple[Judge, Squad]], set_by: str
) -> list[Judge | None]:
    """Note ties, set these judges' sheets for these squads aside, and return who takes over (None: nobody is free).

    All ties are noted before anybody takes over, so that nobody is given a squad that they know; then all sheets are
    handed out once, and each stand-in gets one message.
    """
    for judge, squad in ties:
        await panels.tie(db, judge.id, squad.id, set_by, request.at)
        for sheet in await judges.sheets_of(db, judge.id):
            if sheet.squad_id == squad.id and sheet.state != "recused":
                await judges.set_aside(db, sheet, request.at)
    found: list[tuple[Judge | None, Squad]] = []
    for judge, squad in ties:
        instead = await _take_over(db, tryout, judge, squad)
        ids = [None if one is None else one.id for one in instead]
        await audit(db, tryout, request, "tie", judge=judge.id, squad=squad.id, instead=ids)
        found += [(one, squad) for one in instead]
    await assign_sheets(db, tryout, request.at)
    for one in {one.id: one for one, _ in found if one is not None}.values():
        theirs = {squad.id: squad for other, squad in found if other is not None and other.id == one.id}
        await _tell_stand_in(db, tryout, one, list(theirs.values()), request.at)
    await lists_changed(db, tryout)
    return [one for one, _ in found]


async def _take_over(db: Transaction, tryout: Tryout, judge: Judge, squad: Squad) -> list[Judge | None]:
    """Let others take the seats of a judge at a squad; None for a seat for which nobody is free."""
    instead = []
    for seat in await panels.take_seat(db, judge.id, squad.id):
        one = await _stand_in(db, tryout, seat)
        instead.append(one)
        if one is not None:
            await panels.add_seat(db, seat.model_copy(update={"judge_id": one.id, "pinned": False}))
    return instead


async def _stand_in(db: Snapshot, tryout: Tryout, seat: Seat) -> Judge | None:
    """Who takes an empty seat, while the event is not closed and its judges were shared out."""
    judged = {(event.key, rubric.key): (event, rubric) for event, rubric in rubrics(tryout.plan)}
    what = judged.get((seat.event, seat.measure))
    opened = (await open_events_and_sheets.opened(db, tryout.id)).get(seat.event)
    if what is None or (opened is not None and opened.closed_at is not None):
        return None
    if await judges_per_squad(db, tryout, *what) is None:
        return None
    seats = await panels.seats(db, tryout.id, seat.event, seat.measure)
    return stand_in(seat.squad_id, seats, await judges.judges(db, tryout.id), await tied_seats(db, tryout))


async def _tell_stand_in(db: Transaction, tryout: Tryout, judge: Judge, taken: Sequence[Squad], now: datetime) -> None:
    mine = await entries_of(db, tryout, judge)
    owed = [squad for squad in taken if any(entry.squad.id == squad.id and entry.owed for entry in mine)]
    if judge.opted_in_at is not None and owed:
        await outbox.enqueue(db, tryout.id, f"judge/{judge.id}", words.more_squads(owed, mine), now)


async def _squad(db: Snapshot, tryout: Tryout, squad_id: int) -> Squad:
    found = await squads.squad(db, squad_id)
    if found is None or found.tryout_id != tryout.id or found.withdrawn:
        raise Refusal(Reason.TIE_SQUAD_GONE)
    return found


async def _judge(db: Snapshot, tryout: Tryout, judge_id: int) -> Judge:
    found = await judges.judge(db, judge_id)
    if found is None or found.removed or found.tryout_id != tryout.id:
        raise Refusal(Reason.NOT_A_JUDGE)
    return found
