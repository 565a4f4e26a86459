"""The table: pick a measure, pick a squad, see what stands; and who did not take part."""

from collections.abc import Sequence
from dataclasses import dataclass

from bot.actions.core.arguments import given
from bot.actions.core.dispatch import act, actor_of, audit, roles, view
from bot.actions.core.followers import when_table_changes
from bot.actions.core.opened_forms import Noted, overtaken
from bot.actions.scorekeeping.before_start import attendance_of
from bot.actions.scorekeeping.running_stopwatches import running_clocks
from bot.actions.scorekeeping.timetable_at_table import has_timetable, next_at_table
from bot.actions.scoring.score_book import score_book, standings_of
from bot.rules.core.day_refusal_reasons import DayReason
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.event_day.presence import is_asked
from bot.rules.results.sealing import sealed
from bot.rules.scorekeeping.late_changes import may_record
from bot.rules.scoring.measures import attempts_allowed
from bot.rules.scoring.tie_breaks import can_be_run_off
from bot.words.core.action_keys import ActionKey
from bot.words.core.opened_form import stamped
from bot.words.scorekeeping import before_start as presence_words
from bot.words.scorekeeping import score_table as words
from storage.records.message import Answer, Message, Open, Replace, Row, Say
from storage.records.people import Squad
from storage.records.plan import Event, Plan
from storage.records.plan_measures import Measure, Rubric
from storage.records.request import Request
from storage.records.scores import Absence, Attempt
from storage.records.tryout import Tryout
from storage.tables import attempts, late_changes, run_pads, squads, surprise_waves, surprises
from storage.tables.sql_session import Snapshot, Transaction


@dataclass(frozen=True)
class Spot:
    """One squad at one measure, with what is on record there."""

    event: Event
    measure: Measure
    squad: Squad
    attempts: tuple[Attempt, ...]
    run_offs: tuple[Attempt, ...]
    absence: Absence | None

    @property
    def allowed(self) -> int:
        """How many official attempts the plan gives."""
        return attempts_allowed(self.measure)

    @property
    def line(self) -> words.Line:
        """The squad as it stands in the list."""
        return words.Line(self.squad, self.attempts, self.absence)


def check_begun(tryout: Tryout) -> None:
    """There may be something to see at the table, or a Refusal: `table_not_yet`."""
    if tryout.state in ("drafting", "signup"):
        raise Refusal(Reason.TABLE_NOT_YET)


def check_open(tryout: Tryout) -> None:
    """Attempts may be recorded now, or a Refusal: `table_not_yet`, `table_closed`."""
    check_begun(tryout)
    if tryout.result_stands:
        raise Refusal(Reason.TABLE_CLOSED)


async def check_may_change(db: Snapshot, tryout: Tryout, spot: Spot, nothing_there: bool) -> None:
    """What is on record is not changed by one person once totals can be seen; Refusal `table_settled`."""
    opened = tryout.state == "settled" and await late_changes.is_open(db, spot.squad.id, spot.event.key)
    if not may_record(tryout.state, nothing_there, opened):
        about = words.measure_value(spot.event, spot.measure)
        raise Refusal(DayReason.TABLE_SETTLED, squad=spot.squad.name, about=about, number=spot.squad.id)


async def note_if_late(db: Transaction, tryout: Tryout, request: Request, spot: Spot) -> None:
    """After the close it is listed with the result that something was recorded, unless that was agreed to."""
    if tryout.state == "settled" and not await late_changes.is_open(db, spot.squad.id, spot.event.key):
        who = actor_of(tryout, request.who)
        await late_changes.note_missing(db, tryout.id, spot.squad.id, spot.event.key, who, request.at)


def measures_of(plan: Plan) -> list[tuple[Event, Measure]]:
    """What is recorded at the table: everything but score sheets."""
    return [(event, measure) for event in plan.events for measure in event.measures if not isinstance(measure, Rubric)]


async def events_shown(db: Snapshot, tryout: Tryout) -> list[Event]:
    """The events without what must stay secret; a surprise is among them once it has started for any squad."""
    started = await surprises.started(db, tryout.id)
    started |= {one.event for one in await surprise_waves.starts(db, tryout.id)}
    return [event for event in tryout.plan.events if not event.surprise or event.key in started]


async def measures_shown(db: Snapshot, tryout: Tryout) -> list[tuple[Event, Measure]]:
    """The same without what must stay secret: scorekeepers may be students. Refusal `table_surprise` if that is all."""
    shown = {event.key for event in await events_shown(db, tryout)}
    found = [(event, measure) for event, measure in measures_of(tryout.plan) if event.key in shown]
    if not found:
        raise Refusal(Reason.TABLE_SURPRISE)
    return found


async def measure_of(db: Snapshot, tryout: Tryout, about: str) -> tuple[Event, Measure]:
    """The measure `event.measure`; Refusal `no_measure`, also for a surprise that has not started."""
    shown = {event.key for event in await events_shown(db, tryout)}
    for event, measure in measures_of(tryout.plan):
        if words.measure_value(event, measure) == about and event.key in shown:
            return event, measure
    raise Refusal(Reason.NO_MEASURE)


async def spots(db: Snapshot, tryout: Tryout, about: str) -> list[Spot]:
    """Every squad at one measure, in the order of their numbers; of a surprise those for which it has started."""
    event, measure = await measure_of(db, tryout, about)
    taking_part = await squads.squads(db, tryout.id)
    if event.surprise and event.key not in await surprises.started(db, tryout.id):
        wave = await surprise_waves.started_for(db, tryout.id, event.key)
        taking_part = [squad for squad in taking_part if squad.id in wave]
    made = [
        one for one in await attempts.attempts(db, tryout.id) if (one.event, one.measure) == (event.key, measure.key)
    ]
    away = {one.squad_id: one for one in await attempts.absences(db, tryout.id) if one.event == event.key}
    return [
        Spot(
            event,
            measure,
            squad,
            tuple(one for one in made if one.squad_id == squad.id and not one.run_off),
            tuple(one for one in made if one.squad_id == squad.id and one.run_off),
            away.get(squad.id),
        )
        for squad in taking_part
    ]


async def spot_of(db: Snapshot, tryout: Tryout, about: str, squad_id: int) -> Spot:
    """One squad at one measure; Refusal `no_measure`, `squad_gone`."""
    for spot in await spots(db, tryout, about):
        if spot.squad.id == squad_id:
            return spot
    raise Refusal(Reason.SQUAD_GONE)


def following(found: Sequence[Spot], squad_id: int) -> Squad | None:
    """The next squad, by number and round again, that still has attempts left here."""
    place = [spot.squad.id for spot in found].index(squad_id)
    for spot in (*found[place + 1 :], *found[:place]):
        if spot.absence is None and len(spot.attempts) < spot.allowed:
            return spot.squad
    return None


async def next_squad(db: Snapshot, tryout: Tryout, about: str, event: str, squad_id: int) -> tuple[Squad | None, bool]:
    """Which squad comes after this one, if any, and whether a timetable says so; else it is the next one by number."""
    if await has_timetable(db, tryout, event):
        return await next_at_table(db, tryout, squad_id, event, tryout.created_at), True
    return following(await spots(db, tryout, about), squad_id), False


async def may_run_off(db: Snapshot, tryout: Tryout, squad: Squad) -> bool:
    """Whether a squad is in a tie that the plan's own tie-breaks did not break; nobody learns of it while sealed."""
    if sealed(tryout.state):
        return False
    for tie in standings_of(await score_book(db, tryout)).ties:
        if squad.id not in tie.squads:
            continue
        groups: Sequence[tuple[int, ...]] = (tie.squads,)
        for step in tie.steps:
            if not step.by.startswith("run-off"):
                groups = step.groups
        if any(squad.id in group and len(group) > 1 for group in groups):
            return True
    return False


@view(ActionKey.TABLE_PANEL, "scorekeeper")
async def score_table_panel(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the table."""
    return Say(message=await _measures(db, tryout, request, 0))


@view(ActionKey.TABLE_MEASURES, "scorekeeper")
async def measures(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Go back to the measures, or to another page of them."""
    return Replace(message=await _measures(db, tryout, request, page))


async def _measures(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Message:
    check_begun(tryout)
    found = await measures_shown(db, tryout)
    running = [] if tryout.result_stands else await _running(db, tryout, request)
    if len(found) == 1 and not running:
        return await _squads(db, tryout, words.measure_value(*found[0]), 0)
    done = []
    for event, measure in found:
        lines = [one.line for one in await spots(db, tryout, words.measure_value(event, measure))]
        done.append(words.done_line(lines, attempts_allowed(measure)))
    return words.measures(found, done, page, running, await has_timetable(db, tryout))


async def _running(db: Snapshot, tryout: Tryout, request: Request) -> list[Row]:
    """A button for each stopwatch and each run pad that still runs, in case its message was lost; at most three."""
    names = {squad.id: squad for squad in await squads.squads(db, tryout.id)}
    pads = [words.resume_pad(names[run.squad_id], run.id) for run in await run_pads.running(db, tryout.id)]
    return [*await running_clocks(db, tryout, request.at), *((pad,) for pad in pads)][-3:]


@view(ActionKey.TABLE_MEASURE, "scorekeeper")
async def pick_measure(db: Snapshot, tryout: Tryout, request: Request, *, picked: str) -> Answer:
    """Show the squads of the picked measure."""
    return Replace(message=await _squads(db, tryout, picked, 0))


@view(ActionKey.TABLE_SQUADS, "scorekeeper")
async def pick_page(db: Snapshot, tryout: Tryout, request: Request, page: int, about: str) -> Answer:
    """Another page of the squads of a measure."""
    return Replace(message=await _squads(db, tryout, about, page))


async def _squads(db: Snapshot, tryout: Tryout, about: str, page: int) -> Message:
    check_begun(tryout)
    event, measure = await measure_of(db, tryout, about)
    lines = [spot.line for spot in await spots(db, tryout, about)]
    several = len(await measures_shown(db, tryout)) > 1
    day = await has_timetable(db, tryout, event.key)
    return words.squads(event, measure, lines, attempts_allowed(measure), page, several, day)


@view(ActionKey.TABLE_SQUAD, "scorekeeper")
async def pick_squad(
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    about: str,
    squad_id: int | None = None,
    *,
    picked: int | None = None,
) -> Answer:
    """Show one squad at one measure."""
    return Replace(message=await squad_page(db, tryout, about, given(squad_id, picked)))


async def squad_page(db: Snapshot, tryout: Tryout, about: str, squad_id: int) -> Message:
    """One squad at one measure: what stands, and what can be done."""
    check_begun(tryout)
    spot = await spot_of(db, tryout, about, squad_id)
    attendance = await attendance_of(db, squad_id, spot.event.key)
    here = presence_words.here_line(spot.event, attendance)
    if tryout.result_stands:
        turn = words.Turn(closed=True, here=here)
        return words.squad_page(spot.event, spot.measure, spot.line, spot.run_offs, turn)
    used = len(spot.attempts) >= spot.allowed and can_be_run_off(spot.measure)
    tied = used and await may_run_off(db, tryout, spot.squad)
    after, _ = await next_squad(db, tryout, about, spot.event.key, squad_id)
    after = None if after is not None and after.id == squad_id else after
    to_tick = is_asked(spot.event) and attendance.present is None
    settled = tryout.state == "settled" and not await late_changes.is_open(db, squad_id, spot.event.key)
    turn = words.Turn(spot.allowed, after, tied, here=here, to_tick=to_tick, settled=settled)
    return words.squad_page(spot.event, spot.measure, spot.line, spot.run_offs, turn)


@view(ActionKey.TABLE_ABSENCE, "scorekeeper")
async def ask_absence(db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int) -> Answer:
    """Open the form that notes whether a squad takes part."""
    check_open(tryout)
    spot = await spot_of(db, tryout, about, squad_id)
    await check_may_change(db, tryout, spot, spot.absence is None)
    excuses = "coach" in await roles(db, tryout, request)
    return Open(form=stamped(words.absence_form(spot.event, spot.squad, about, spot.absence, excuses)))


@act(ActionKey.TABLE_ABSENT, "scorekeeper")
async def note_absence(
    db: Transaction, tryout: Tryout, request: Request, about: str, squad_id: int, stamp: str = ""
) -> Answer:
    """Note that a squad is absent or excused, or takes part after all."""
    check_open(tryout)
    spot = await spot_of(db, tryout, about, squad_id)
    excuses = "coach" in await roles(db, tryout, request)
    now = words.absence_form(spot.event, spot.squad, about, spot.absence, excuses)
    noted = Noted(("table.absence",), {"squad": squad_id, "event": spot.event.key})
    opens = (ActionKey.TABLE_ABSENCE, about, squad_id)
    if (told := await overtaken(db, tryout, request, now, stamp, opens, noted)) is not None:
        return told
    state, reason = request.fields.get("state", "absent"), request.fields.get("reason", "").strip()
    was_excused = spot.absence is not None and spot.absence.excused
    if (state == "excused" or was_excused) and not excuses:
        raise Refusal(Reason.ONLY_COACH_EXCUSES)
    if state == "here":
        absence = None
    else:
        if state == "excused" and not reason:
            raise Refusal(Reason.ABSENCE_REASON)
        absence = Absence(squad_id=spot.squad.id, event=spot.event.key, excused=state == "excused", reason=reason[:300])
    await keep_absence(db, tryout, request, spot, absence)
    return Replace(message=words.absence_noted(spot.event, spot.squad, absence, about))


async def keep_absence(db: Transaction, tryout: Tryout, request: Request, spot: Spot, absence: Absence | None) -> None:
    """Keep that a squad does not take part in an event, or that it does.

    Raises Refusal: `absence_attempts`, `table_settled`.
    """
    await check_may_change(db, tryout, spot, spot.absence is None)
    if absence is None:
        await attempts.clear_absence(db, spot.squad.id, spot.event.key)
    else:
        await _check_no_attempts(db, tryout, spot)
        await attempts.set_absence(db, absence)
    state = "here" if absence is None else "excused" if absence.excused else "absent"
    if absence is not None:
        await note_if_late(db, tryout, request, spot)
    await audit(db, tryout, request, "table.absence", squad=spot.squad.id, event=spot.event.key, state=state)
    await when_table_changes.tell(db, tryout, request.at)


async def _check_no_attempts(db: Snapshot, tryout: Tryout, spot: Spot) -> None:
    """An absence would hide what the squad has done in any measure of the event."""
    for one in await attempts.attempts(db, tryout.id):
        if one.squad_id == spot.squad.id and one.event == spot.event.key:
            raise Refusal(Reason.ABSENCE_ATTEMPTS, squad=spot.squad.name)
