"""Ties of interest: nobody marks a squad in which they know someone; another judge takes over."""

from collections.abc import Sequence

from bot.actions.core.arguments import given
from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.judging.picked_judge import judge_of_tryout
from bot.actions.judging.sheet_queries import check_not_closed, lists_changed, me_as_judge
from bot.actions.judging.sheets_follow_panels import assign_sheets, tied_seats
from bot.actions.judging.stand_in_judge import take_over, tell_stand_in
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.conflicts_of_interest import check_may_step_back, check_still_open, to_step_back_from
from bot.rules.results.hidden_until_close import sealed
from bot.words.core.action_keys import ActionKey
from bot.words.judging import conflicts_of_interest as words
from bot.words.judging import stand_in_judge
from storage.records.message import Answer, Message, Replace, Say
from storage.records.people import Judge, Squad
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import conflicts_of_interest, judges, outbox, score_sheets, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.SHEETS_TIE, "judge")
async def which(db: Snapshot, tryout: Tryout, request: Request, page: int | None = None) -> Answer:
    """Ask a judge in which squad they know someone."""
    check_still_open(sealed(tryout.state))
    me = await me_as_judge(db, tryout, request)
    tied = {squad for squad, judge in await tied_seats(db, tryout) if judge == me.id}
    done = {sheet.squad_id for sheet in await score_sheets.sheets_of(db, me.id) if sheet.state == "submitted"}
    open_to = to_step_back_from(await squads.squads(db, tryout.id), tied, done)
    if page is not None:
        return Replace(message=words.which(open_to, page))
    return Say(message=words.which(open_to, 0))


@view(ActionKey.SHEETS_TIE_ASK, "judge")
async def conflicts_sure(
    db: Snapshot, tryout: Tryout, request: Request, squad_id: int | None = None, *, picked: int | None = None
) -> Answer:
    """Ask once before a judge steps back."""
    me, squad = await _stepping_back(db, tryout, request, given(picked, squad_id))
    marked = any(sheet.squad_id == squad.id and sheet.version for sheet in await score_sheets.sheets_of(db, me.id))
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
    check_still_open(sealed(tryout.state))
    me = await me_as_judge(db, tryout, request)
    squad = await _squad(db, tryout, squad_id)
    done = {sheet.squad_id for sheet in await score_sheets.sheets_of(db, me.id) if sheet.state == "submitted"}
    check_may_step_back(squad, (squad.id, me.id) in await tied_seats(db, tryout), squad.id in done)
    return me, squad


@view(ActionKey.TIES_PANEL, "coach")
async def conflicts_panel(db: Snapshot, tryout: Tryout, request: Request, page: int = 0) -> Answer:
    """Show all ties to the coach."""
    return Replace(message=await _panel(db, tryout, page))


async def _panel(db: Snapshot, tryout: Tryout, page: int = 0, done: str = "") -> Message:
    taking_part = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    return words.conflicts_panel(
        await judges.judges(db, tryout.id), taking_part, await conflicts_of_interest.ties(db, tryout.id), page, done
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
    judge = await judge_of_tryout(db, tryout, given(picked, judge_id))
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
    judge = await judge_of_tryout(db, tryout, judge_id)
    tied = await tied_seats(db, tryout)
    taking_part, mine = await squads.squads(db, tryout.id), {squad for squad, other in tied if other == judge.id}
    if stamp != words.stamp_of(words.on_page(taking_part, page), mine):
        return Replace(message=words.of_judge(judge, taking_part, mine, page, changed=True))
    new: list[tuple[Judge, Squad]] = []
    for squad in words.on_page(taking_part, page):
        if squad.id in picked and (squad.id, judge.id) not in tied:
            new.append((judge, squad))
        elif squad.id not in picked and (squad.id, judge.id) in tied:
            await conflicts_of_interest.untie(db, judge.id, squad.id)
            await audit(db, tryout, request, "tie.gone", judge=judge.id, squad=squad.id)
    instead = await note_ties(db, tryout, request, new, "coach")
    return Replace(message=await _panel(db, tryout, done=stand_in_judge.took_over(instead).strip()))


async def note_ties(
    db: Transaction, tryout: Tryout, request: Request, ties: Sequence[tuple[Judge, Squad]], set_by: str
) -> list[Judge | None]:
    """Note ties, set these judges' sheets for these squads aside, and return who takes over (None: nobody is free).

    All ties are noted before anybody takes over, so that nobody is given a squad that they know; then all sheets are
    handed out once, and each stand-in gets one message.
    """
    for judge, squad in ties:
        await conflicts_of_interest.tie(db, judge.id, squad.id, set_by, request.at)
        for sheet in await score_sheets.sheets_of(db, judge.id):
            if sheet.squad_id == squad.id and sheet.state != "recused":
                await score_sheets.set_aside(db, sheet, request.at)
    found: list[tuple[Judge | None, Squad]] = []
    for judge, squad in ties:
        instead = await take_over(db, tryout, judge, squad)
        ids = [None if one is None else one.id for one in instead]
        await audit(db, tryout, request, "tie", judge=judge.id, squad=squad.id, instead=ids)
        found += [(one, squad) for one in instead]
    await assign_sheets(db, tryout, request.at)
    for one in {one.id: one for one, _ in found if one is not None}.values():
        theirs = {squad.id: squad for other, squad in found if other is not None and other.id == one.id}
        await tell_stand_in(db, tryout, one, list(theirs.values()), request.at)
    await lists_changed(db, tryout)
    return [one for one, _ in found]


async def _squad(db: Snapshot, tryout: Tryout, squad_id: int) -> Squad:
    found = await squads.squad(db, squad_id)
    if found is None or found.tryout_id != tryout.id or found.withdrawn:
        raise Refusal(Reason.TIE_SQUAD_GONE)
    return found
