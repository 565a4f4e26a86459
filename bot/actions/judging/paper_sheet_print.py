"""Printing score sheets: the coach for any judge, a judge the own ones."""

from collections.abc import Callable, Sequence

from bot.actions.core.dispatch import slow_view, view
from bot.actions.judging.picked_judge import picked_judge
from bot.actions.judging.sheet_queries import me_as_judge
from bot.actions.judging.sheets_follow_panels import judges_per_squad, tied_seats
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging import paper_sheet_print as rules
from bot.rules.judging.judged_rubrics import rubrics
from bot.words.core.action_keys import ActionKey
from bot.words.judging import paper_sheet_print as words
from bot.words.judging.paper_sheet_print import Page, score_sheets_pdf
from storage.records.message import Answer, Replace, Say
from storage.records.people import Judge, Squad
from storage.records.plan import Event
from storage.records.plan_measures import Rubric
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, open_events, panels, score_sheets, squads
from storage.tables.sql_session import Snapshot


@view(ActionKey.PAPER_PANEL, "coach")
async def paper_print_panel(
    db: Snapshot, tryout: Tryout, request: Request, large: bool = False, page: int = 0
) -> Answer:
    """Show how to print sheets, and how to type them in."""
    return Replace(message=words.paper_print_panel(await judges.judges(db, tryout.id), large, page))


@slow_view(ActionKey.PAPER_PRINT, "coach")
async def print_sheets(
    db: Snapshot, tryout: Tryout, request: Request, large: bool = False, *, picked: int | None = None
) -> Callable[[], Answer]:
    """Print the sheets of one judge."""
    judge = await picked_judge(db, tryout, request, picked)
    return await _printed(db, tryout, request, judge, large=large, own=False)


@slow_view(ActionKey.SHEETS_PAPER, "judge")
async def print_mine(db: Snapshot, tryout: Tryout, request: Request, large: bool = False) -> Callable[[], Answer]:
    """Print my own sheets, in large print if that is asked for."""
    me = await me_as_judge(db, tryout, request)
    return await _printed(db, tryout, request, me, large=large, own=True)


async def _printed(
    db: Snapshot, tryout: Tryout, request: Request, judge: Judge, large: bool, own: bool
) -> Callable[[], Answer]:
    pages = await pages_of(db, tryout, judge)
    if not pages:
        raise Refusal(Reason.NO_PAPER)

    def work() -> Answer:
        data = score_sheets_pdf(tryout.plan, tryout.plan_sha256, judge, pages, request.at, large)
        message = words.printed(judge, len(pages), large, data, own)
        return Say(message=message) if own else Replace(message=message)

    return work


async def pages_of(db: Snapshot, tryout: Tryout, judge: Judge, sealed: bool = False) -> list[Page]:
    """What a judge will mark, also before sheets are handed out; a surprise once it is open.

    `sealed`: instead those of surprises that are not, for the coach to keep under lock and key.
    """
    opened = await open_events.opened(db, tryout.id)
    found = []
    for event, rubric in rubrics(tryout.plan):
        if rules.is_printed(event, opened, sealed):
            found += [Page(squad, event, rubric) for squad in await _squads_of(db, tryout, judge, event, rubric)]
    return found


async def _squads_of(db: Snapshot, tryout: Tryout, judge: Judge, event: Event, rubric: Rubric) -> Sequence[Squad]:
    taking_part = await squads.squads(db, tryout.id)
    by_id = {squad.id: squad for squad in taking_part}
    mine = rules.handed_out(await score_sheets.sheets_of(db, judge.id), event.key, rubric.key)
    if not mine:
        tied, shared_out = await tied_seats(db, tryout), None
        if await judges_per_squad(db, tryout, event, rubric) is not None:
            found = await panels.seats(db, tryout.id, event.key, rubric.key)
            shared_out = {(one.squad_id, one.judge_id) for one in found}
        mine = rules.before_handed_out(judge, taking_part, tied, shared_out)
    return [by_id[squad_id] for squad_id in mine]
