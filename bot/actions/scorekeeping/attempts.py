"""Recording attempts: the form, the value read back, and saving; who may run off."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.followers import when_table_changes
from bot.actions.scorekeeping.may_record import check_may_change, note_if_late
from bot.actions.scorekeeping.may_start import attendance_of
from bot.actions.scorekeeping.next_squad import next_squad
from bot.actions.scorekeeping.recorded_so_far import Spot, spot_of
from bot.actions.scoring.score_book import score_book, standings_of
from bot.rules.core.parse_typed import read_points
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.rules.results.hidden_until_close import sealed
from bot.rules.scorekeeping import attempt_entry, counted_shares
from bot.rules.scorekeeping import attempts as rules
from bot.rules.scorekeeping.absences import check_takes_part
from bot.rules.scorekeeping.attempt_entry import Typed
from bot.rules.scorekeeping.may_record import adds_only, check_open
from bot.rules.scorekeeping.typed_times import Asked
from bot.rules.scoring.measures import attempt_value
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.scorekeeping import attempt_entry as entry_words
from bot.words.scorekeeping import attempts as words
from bot.words.scorekeeping import score_table as table_words
from bot.words.scorekeeping.attempt_value_text import value_text
from bot.words.scorekeeping.doubtful_values import slip_note
from storage.records.message import Answer, FormField, Message, Open, Replace
from storage.records.people import Squad
from storage.records.plan_measures import Checklist, Count, Number, Rubric, Time
from storage.records.request import Request
from storage.records.scores import Attempt
from storage.records.tryout import Tryout
from storage.tables import attempts, member_parts, run_pads, stopwatches
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.TABLE_FORM, "scorekeeper")
async def form(
    db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int, code: str, *values: str
) -> Answer:
    """Open the form of an attempt, filled with what was typed before."""
    spot, number, run_off = await next_attempt(db, tryout, about, squad_id, code)
    fields = await fields_of(db, spot, values)
    name = words.attempt_name(spot.measure, number, run_off)
    press = values[:1] if isinstance(spot.measure, Time) and len(values) > 2 else ()
    form_key = key(ActionKey.TABLE_TYPED, about, squad_id, code, *press)
    return Open(form=words.attempt_form(form_key, spot.squad, name, fields))


@view(ActionKey.TABLE_HAND, "scorekeeper")
async def choose_time(
    db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int, code: str, *values: str
) -> Answer:
    """Let the other one of two times count; both are kept."""
    spot, number, run_off = await next_attempt(db, tryout, about, squad_id, code)
    return Replace(message=await read_back(db, request, spot, number, run_off, values))


@view(ActionKey.TABLE_TYPED, "scorekeeper")
async def typed(
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    about: str,
    squad_id: int,
    code: str,
    press: str = attempt_entry.NOT_TAKEN,
) -> Answer:
    """Read back what was typed, with its sum, before it is saved; a time by presses stays beside it."""
    spot, number, run_off = await next_attempt(db, tryout, about, squad_id, code)
    values = attempt_entry.from_form(spot.measure, request.fields, press)
    return Replace(message=await read_back(db, request, spot, number, run_off, values))


@view(ActionKey.TABLE_OFF, "scorekeeper")
async def ask_deductions(  # noqa: PLR0913, PLR0917
    db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int, code: str, counts: str, off: str
) -> Answer:
    """Open the form for points off, where five kinds of items left no room for them."""
    spot, _, _ = await next_attempt(db, tryout, about, squad_id, code)
    less = key(ActionKey.TABLE_LESS, about, squad_id, code, counts)
    return Open(form=words.deductions_form(less, spot.squad, spot.measure, off))


@view(ActionKey.TABLE_LESS, "scorekeeper")
async def deduct(
    db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int, code: str, counts: str
) -> Answer:
    """Read the attempt back with its points off."""
    spot, number, run_off = await next_attempt(db, tryout, about, squad_id, code)
    off = str(read_points(request.fields.get("deductions", ""), Asked.POINTS_OFF))
    return Replace(message=await read_back(db, request, spot, number, run_off, (counts, off)))


@act(ActionKey.TABLE_SAVE, "scorekeeper")
async def save(
    db: Transaction, tryout: Tryout, request: Request, about: str, squad_id: int, code: str, *values: str
) -> Answer:
    """Put the attempt on record."""
    spot, number, run_off = await next_attempt(db, tryout, about, squad_id, code)
    return Replace(message=await save_attempt(db, tryout, request, spot, number, run_off, values))


async def save_attempt(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    spot: Spot,
    number: int,
    run_off: bool,
    values: Typed,
    **details: object,
) -> Message:
    """Keep an attempt, close the run pad that was open for it, and say so; Refusal `table_settled`."""
    await check_may_change(db, tryout, spot, adds_only(len(spot.attempts), run_off))
    about = table_words.measure_value(spot.event, spot.measure)
    attempt = await attempt_of(db, request, spot, number, run_off, values)
    attempt_id = await attempts.add_attempt(db, attempt)
    if not run_off:
        await note_if_late(db, tryout, request, spot)
    code = words.number_code(number, run_off)
    await stopwatches.over(db, spot.squad.id, about, code)
    await audit(
        db, tryout, request, "table.save", squad=spot.squad.id, measure=about, attempt=code, id=attempt_id, **details
    )
    await when_table_changes.tell(db, tryout, request.at)
    pad = await run_pads.open_run(db, spot.squad.id, spot.event.key, spot.measure.key, number, run_off)
    if pad is not None:
        await run_pads.save(db, pad.id, attempt_id, request.at)
    kept = attempt.model_copy(update={"id": attempt_id})
    after, by_time = await next_squad(db, tryout, about, spot.event.key, spot.squad.id)
    more = rules.has_more(number, run_off, spot.allowed)
    return words.attempts_saved(spot.squad, spot.event, spot.measure, kept, after, more, by_time)


async def next_attempt(db: Snapshot, tryout: Tryout, about: str, squad_id: int, code: str) -> tuple[Spot, int, bool]:
    """The squad and the attempt a key is about, if that attempt is the next one."""
    check_open(tryout)
    spot = await spot_of(db, tryout, about, squad_id)
    number, run_off = attempt_entry.read_code(code)
    await check_due(db, tryout, spot, number, run_off)
    return spot, number, run_off


async def check_due(db: Snapshot, tryout: Tryout, spot: Spot, number: int, run_off: bool) -> None:
    """An attempt is the next one, and allowed."""
    made = spot.run_offs if run_off else spot.attempts
    name = spot.squad.name
    check_takes_part(spot.squad, spot.absence)
    if number <= len(made):
        value = value_text(spot.measure, made[number - 1])
        raise Refusal(TableReason.ATTEMPT_TAKEN, squad=name, number=number, value=value)
    rules.check_next(number, len(made), None if run_off else spot.allowed, name)
    await check_may_change(db, tryout, spot, adds_only(len(made), run_off))
    if run_off:
        rules.check_run_off_not_early(sealed(tryout.state))
        tied = await may_run_off(db, tryout, spot.squad)
        rules.check_run_off(tied, len(spot.attempts), len(spot.run_offs), spot.allowed, name)


async def may_run_off(db: Snapshot, tryout: Tryout, squad: Squad) -> bool:
    """Whether a squad is in a tie that the plan's own tie-breaks did not break; nobody learns of it while sealed."""
    if sealed(tryout.state):
        return False
    return rules.may_run_off(squad.id, standings_of(await score_book(db, tryout)).ties)


async def fields_of(db: Snapshot, spot: Spot, values: Typed = ()) -> tuple[FormField, ...]:
    """The fields of an attempt's form, filled with what was typed before."""
    measure = spot.measure
    if values:
        attempt_entry.check_values(measure, values)
    if isinstance(measure, Count):
        counts, off = values or ("", "")
        return entry_words.count_fields(measure, tuple(counts.split(",")) if counts else (), off)
    if isinstance(measure, Number):
        return entry_words.number_fields(measure, values[0] if values else "")
    if isinstance(measure, Checklist):
        return entry_words.checklist_fields(measure, values[0] if values else "")
    if isinstance(measure, Time):
        return entry_words.time_fields(measure, *attempt_entry.typed_time(values))
    members = await _members_asked(db, spot)
    handed_in = len(await member_parts.parts(db, spot.squad.id, spot.event.key)) if spot.event.hand_in else None
    return entry_words.share_fields(members, values[0] if values else "", handed_in)


async def attempt_of(db: Snapshot, request: Request, spot: Spot, number: int, run_off: bool, values: Typed) -> Attempt:
    """The attempt that the values in a key mean; the rules refuse what makes no sense."""
    assert not isinstance(spot.measure, Rubric)
    members = await _members_asked(db, spot)
    attempt = Attempt(
        id=0,
        squad_id=spot.squad.id,
        event=spot.event.key,
        measure=spot.measure.key,
        number=number,
        run_off=run_off,
        recorded_by=request.who,
        recorded_at=request.at,
    ).model_copy(update=attempt_entry.meaning(spot.measure, values, members))
    attempt_value(spot.measure, attempt)
    return attempt


async def _members_asked(db: Snapshot, spot: Spot) -> int:
    """Out of how many members a share is: those who are here, where that was ticked; all, where parts are handed in."""
    found = await attendance_of(db, spot.squad.id, spot.event.key)
    return counted_shares.members_asked(len(found.members), found.present, spot.event.hand_in)


async def read_back(db: Snapshot, request: Request, spot: Spot, number: int, run_off: bool, values: Typed) -> Message:
    """The attempt with its sum, to be saved or changed."""
    attempt = await attempt_of(db, request, spot, number, run_off, values)
    note = slip_note(spot.measure, attempt)
    return words.read_back(spot.squad, spot.event, spot.measure, attempt, values, note)
