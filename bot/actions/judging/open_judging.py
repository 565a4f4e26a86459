"""Events are opened for judging: panels are made where need be, sheets handed out, judges and the coach told."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.core.worker_thread import Outdated
from bot.actions.judging.compute_panel import keep_panel, names_of, problem_of
from bot.actions.judging.judges_overview import overview
from bot.actions.judging.sheet_queries import entries_of, lists_changed
from bot.actions.judging.sheets_follow_panels import assign_sheets
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging import open_judging as rules
from bot.rules.judging.compute_panel import Obstacle, Panel, Problem, assign
from bot.rules.judging.judged_rubrics import judged_events, rubrics
from bot.words.core.action_keys import ActionKey
from bot.words.judging import open_judging as words
from storage.records.message import Answer, Replace
from storage.records.people import Judge
from storage.records.plan import Event
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import day_timetable, judges, open_events, outbox, panels, squads
from storage.tables.sql_session import Snapshot, Transaction
from storage.tables.surprises import waiting

DrawnPanels = Mapping[tuple[str, str], tuple[Problem, Panel | Obstacle]]
"""By event and measure: what was to be shared out, and how it was, or what stands in the way."""


async def draw_panels(db: Snapshot, tryout: Tryout, *event_keys: str) -> Work[DrawnPanels]:
    """Share judges out for these events, or for all that open when the window ends: to be done beside the loop."""
    wanted = event_keys or [one.key for one in await _of_window(db, tryout)]
    asked = {}
    for event, rubric in rubrics(tryout.plan):
        if event.key in wanted and not await panels.seats(db, tryout.id, event.key, rubric.key):
            problem = await problem_of(db, tryout, event, rubric)
            if problem is not None:
                asked[event.key, rubric.key] = problem
    return lambda: {what: (problem, assign(problem)) for what, problem in asked.items()}


async def _of_window(db: Snapshot, tryout: Tryout) -> list[Event]:
    opened = await open_events.opened(db, tryout.id)
    return [one for one in judged_events(tryout.plan) if rules.opens_at_deadline(one, opened)]


async def open_judging(db: Transaction, tryout: Tryout, now: datetime, drawn: DrawnPanels) -> None:
    """Hand out the sheets of every event that is no surprise: what happens when the window ends.

    Raises:
        Outdated: `drawn`, from `draw_panels`, is not for the judges and squads there are now.
    """
    await _open(db, tryout, await _of_window(db, tryout), now, drawn)


async def open_sheets(db: Transaction, tryout: Tryout, event_key: str, now: datetime, drawn: DrawnPanels) -> None:
    """Hand out the sheets of one event, and let it be judged; an event that is open already stays as it is.

    Raises:
        Outdated: as `open_judging`.
    """
    opened = await open_events.opened(db, tryout.id)
    if event_key in opened and opened[event_key].closed_at is None:
        return
    await _open(db, tryout, [one for one in judged_events(tryout.plan) if one.key == event_key], now, drawn)


async def _open(db: Transaction, tryout: Tryout, events: Sequence[Event], now: datetime, drawn: DrawnPanels) -> None:
    if not events:
        return
    for event in events:
        await open_events.open_event(db, tryout.id, event.key, now)
    for event in events:
        await _make_panels(db, tryout, event, now, drawn)
    await assign_sheets(db, tryout, now)
    panel = await judges.judges(db, tryout.id)
    for judge in panel:
        await tell_sheets_out(db, tryout, judge, [event.name for event in events], now)
    await lists_changed(db, tryout)
    message = words.told_open([event.name for event in events], panel, await squads.squads(db, tryout.id))
    await outbox.enqueue(db, tryout.id, "office", message, now)


async def _make_panels(db: Transaction, tryout: Tryout, event: Event, now: datetime, drawn: DrawnPanels) -> None:
    """Share judges out for an event whose squads are not seen by all of them, unless the coach has done so before."""
    for judged, rubric in rubrics(tryout.plan):
        if judged.key != event.key or await panels.seats(db, tryout.id, event.key, rubric.key):
            continue
        asked = await problem_of(db, tryout, event, rubric)
        if asked is None:
            continue
        problem, found = drawn.get((event.key, rubric.key), (None, None))
        if found is None or problem != asked:
            raise Outdated
        if isinstance(found, Panel):
            await keep_panel(db, tryout, event, rubric, found)
        else:
            names = await names_of(db, tryout)
            await outbox.enqueue(db, tryout.id, "office", words.no_sheets(event, rubric, found, names), now)


async def tell_sheets_out(db: Transaction, tryout: Tryout, judge: Judge, opened: Sequence[str], now: datetime) -> None:
    """Tell a judge that there are sheets to mark; late news is better than none, so it never grows stale."""
    mine = await entries_of(db, tryout, judge)
    if rules.is_told(judge, mine):
        events = {entry.event.key for entry in mine if entry.event.name in opened}
        ahead = rules.meets_ahead(judge, await day_timetable.slots(db, tryout.id), events, now)
        message = words.sheets_out(mine, opened, schedule_of(tryout).judging_closes, ahead)
        await outbox.enqueue(db, tryout.id, f"judge/{judge.id}", message, now)


async def open_names(db: Snapshot, tryout: Tryout) -> list[str]:
    """The names of the events that can be judged now."""
    opened = await open_events.opened(db, tryout.id)
    return [one.name for one in judged_events(tryout.plan) if one.key in opened and opened[one.key].closed_at is None]


@view(ActionKey.JUDGING_PICK_EVENT, "coach")
async def pick_event(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask which event shall be judged now."""
    rules.check_judging_runs(tryout.state)
    opened = await open_events.opened(db, tryout.id)
    secret = [one.key for one in await waiting(db, tryout)]
    return Replace(message=words.pick_event(rules.to_open(judged_events(tryout.plan), opened, secret)))


async def _draw(
    db: Snapshot, tryout: Tryout, request: Request, named: str = "", *, picked: str = ""
) -> Work[DrawnPanels]:
    return await draw_panels(db, tryout, picked or named or request.fields.get("event", ""))


@act(ActionKey.JUDGING_OPEN, "coach", before=_draw)
async def open_event(
    db: Transaction, tryout: Tryout, request: Request, named: str = "", *, picked: str = "", prepared: DrawnPanels
) -> Answer:
    """Open one event for judging: every judge gets the sheets."""
    rules.check_judging_runs(tryout.state)
    event = picked or named or request.fields.get("event", "")
    known = {one.key: one for one in judged_events(tryout.plan)}
    if event not in known:
        raise Refusal(Reason.RUBRIC_GONE)
    opened, secret = await open_events.opened(db, tryout.id), [one.key for one in await waiting(db, tryout)]
    rules.check_may_open(known[event], opened, secret, len(await judges.judges(db, tryout.id)))
    await open_sheets(db, tryout, event, request.at, prepared)
    await audit(db, tryout, request, "judging.open", event=event)
    return Replace(message=await overview(db, tryout))
