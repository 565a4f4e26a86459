"""Typing in run sheets that were filled on paper: twice, by two people, compared before anything counts."""

from collections.abc import Mapping

from bot.actions.core.arguments import given
from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.roles import roles
from bot.actions.event_day.presence_and_equipment import keep_presence
from bot.actions.event_day.run_sheet_typed_so_far import TypedSheet, both_entries, typed_sheet
from bot.actions.scorekeeping.absences import keep_absence
from bot.actions.scorekeeping.attempts import attempt_of, fields_of, save_attempt
from bot.actions.scorekeeping.recorded_so_far import Spot, measure_of, measures_shown, spots
from bot.rules.event_day import run_sheet_entry as rules
from bot.rules.event_day.run_sheet_entry import HERE, PRESENCE, Turn
from bot.rules.scorekeeping.may_record import check_open
from bot.words.core.day_action_keys import DayKey
from bot.words.event_day import run_sheet_entry as words
from storage.records.event_day import RunEntry
from storage.records.message import Answer, Form, FormField, Message, Open, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import run_sheet_entries
from storage.tables.sql_session import Snapshot, Transaction


@view(DayKey.RUN_SHEETS, "recorder")
async def measures(db: Snapshot, tryout: Tryout, request: Request, page: int = 0) -> Answer:
    """Ask of what the sheets are that are typed in."""
    check_open(tryout)
    found = []
    for event, measure in await measures_shown(db, tryout):
        if lines := await _missing(db, tryout, f"{event.key}.{measure.key}"):
            found.append((event, measure, len(lines)))
    return Replace(message=words.measures(found, page, "scorekeeper" in await roles(db, tryout, request)))


@view(DayKey.RUN_SHEET_MEASURE, "recorder")
async def pick_measure(db: Snapshot, tryout: Tryout, request: Request, *, picked: str) -> Answer:
    """Ask which squad stands on the paper."""
    return Replace(message=await _squads(db, tryout, picked, 0))


@view(DayKey.RUN_SHEET_PAGE, "recorder")
async def pick_page(db: Snapshot, tryout: Tryout, request: Request, page: int, about: str) -> Answer:
    """The squads again, or more of them."""
    return Replace(message=await _squads(db, tryout, about, page))


async def _squads(db: Snapshot, tryout: Tryout, about: str, page: int) -> Message:
    check_open(tryout)
    event, measure = await measure_of(db, tryout, about)
    found = [(spot.line, spot.allowed, once) for spot, once in await _missing(db, tryout, about)]
    return words.squads(event, measure, found, page)


async def _missing(db: Snapshot, tryout: Tryout, about: str) -> list[tuple[Spot, bool]]:
    """The squads of which something could still be typed in, and whether something of them was typed in once."""
    event, measure = await measure_of(db, tryout, about)
    once = await run_sheet_entries.typed_once(db, tryout.id, event.key, measure.key)
    return [
        (one, one.squad.id in once)
        for one in await spots(db, tryout, about)
        if rules.is_listed(one.done, one.squad.id in once)
    ]


@view(DayKey.RUN_SHEET_OPEN, "recorder")
async def pick_squad(
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    about: str,
    squad_id: int | None = None,
    *,
    picked: int | None = None,
) -> Answer:
    """Show what of a squad's sheet is on record, and what is typed in next."""
    check_open(tryout)
    found = await typed_sheet(db, tryout, request, about, given(squad_id, picked))
    return Replace(message=words.sheet(found.shown, found.runs, found.presence))


@view(DayKey.RUN_SHEET_FORM, "recorder")
async def form(db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int, number: int) -> Answer:
    """Open the form of an attempt, or of who was here; the second time nothing of the first is shown."""
    check_open(tryout)
    found = await typed_sheet(db, tryout, request, about, squad_id)
    turn = found.turn(number)
    if turn.differs:
        return Replace(message=words.differ(found.shown, number, *both_entries(found, number)))
    return Open(form=await _form(db, found, turn, request))


async def _form(db: Snapshot, found: TypedSheet, turn: Turn, request: Request) -> Form:
    kept = found.entry(turn.number, turn.entry)
    place = rules.next_form(found.measure, turn.number, kept) or 0
    keys = rules.forms(found.measure, turn.number)[place]
    fields = await _fields(db, found, turn.number, keys)
    return words.entry_form(found.shown, turn, place, fields, request.id)


@act(DayKey.RUN_SHEET_TYPED, "recorder")
async def typed(  # noqa: PLR0913, PLR0917
    db: Transaction,
    tryout: Tryout,
    request: Request,
    about: str,
    squad_id: int,
    number: int,
    entry: int,
    place: int,
    opening: int = 0,
) -> Answer:
    """Keep what was typed; when both entries are whole they are compared."""
    check_open(tryout)
    found = await typed_sheet(db, tryout, request, about, squad_id)
    turn = found.turn(number)
    before = found.entry(number, entry)
    rules.check_next(turn, entry, place, rules.next_form(found.measure, number, before))
    fields = rules.with_form(found.measure, number, place, before, request.fields)
    whole = rules.next_form(found.measure, number, fields) is None
    if whole and number != PRESENCE:
        await attempt_of(db, request, found.spot, number, False, rules.values(found.measure, fields))
    measure = "" if number == PRESENCE else found.measure.key
    kept = RunEntry(
        squad_id=squad_id,
        event=found.spot.event.key,
        measure=measure,
        number=number,
        entry=entry,
        fields=fields,
        entered_by=request.who,
        at=request.at,
    )
    await run_sheet_entries.keep(db, kept)
    await audit(db, tryout, request, "run-sheet.entry", squad=squad_id, measure=about, number=number, entry=entry)
    if not whole:
        return Replace(message=words.go_on(found.shown, number))
    if entry == 1:
        return Replace(message=words.once(found.shown, number, await _note(db, request, found, number, fields)))
    first = found.entry(number, 1)
    if rules.differing(first, fields):
        return Replace(message=words.differ(found.shown, number, first, fields))
    return await _save(db, tryout, request, found, number, fields)


@view(DayKey.RUN_SHEET_SETTLE, "recorder")
async def settle(db: Snapshot, tryout: Tryout, request: Request, about: str, squad_id: int, number: int) -> Answer:
    """Open a form with only what differs."""
    check_open(tryout)
    found = await typed_sheet(db, tryout, request, about, squad_id)
    keys = rules.differing(*both_entries(found, number))
    fields = await _fields(db, found, number, keys)
    return Open(form=words.settle_form(found.shown, number, fields, request.id))


@act(DayKey.RUN_SHEET_SETTLED, "recorder")
async def settled(
    db: Transaction, tryout: Tryout, request: Request, about: str, squad_id: int, number: int, opening: int = 0
) -> Answer:
    """Save the part with what another look at the paper gave."""
    check_open(tryout)
    found = await typed_sheet(db, tryout, request, about, squad_id)
    first, second = both_entries(found, number)
    keys = rules.differing(first, second)
    fields: Mapping[str, str] = {**second, **{key: request.fields.get(key, "") for key in keys}}
    for place in range(len(rules.forms(found.measure, number))):
        fields = rules.with_form(found.measure, number, place, fields, fields)
    await audit(db, tryout, request, "run-sheet.settle", squad=squad_id, measure=about, number=number, fields=keys)
    return await _save(db, tryout, request, found, number, fields, settled=True)


@act(DayKey.RUN_SHEET_AGAIN, "recorder")
async def again(db: Transaction, tryout: Tryout, request: Request, about: str, squad_id: int, number: int) -> Answer:
    """Throw both entries of a part away and begin anew."""
    check_open(tryout)
    found = await typed_sheet(db, tryout, request, about, squad_id)
    both_entries(found, number)
    await _drop(db, found, number)
    await audit(db, tryout, request, "run-sheet.again", squad=squad_id, measure=about, number=number)
    return Replace(message=words.started_over(found.shown, number))


async def _fields(db: Snapshot, found: TypedSheet, number: int, keys: tuple[str, ...]) -> tuple[FormField, ...]:
    """The fields of these keys, with nothing in them."""
    if number == PRESENCE:
        return words.here_fields(found.shown)
    return words.blank(found.measure, await fields_of(db, found.spot), keys)


async def _note(db: Snapshot, request: Request, found: TypedSheet, number: int, fields: Mapping[str, str]) -> str:
    """What was read, and a question where it looks like a slip."""
    if number == PRESENCE:
        return words.here_text(found.shown, fields[HERE])
    attempt = await attempt_of(db, request, found.spot, number, False, rules.values(found.measure, fields))
    return words.attempt_text(found.measure, attempt)


async def _save(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    found: TypedSheet,
    number: int,
    fields: Mapping[str, str],
    settled: bool = False,
) -> Answer:
    """Put a part on record on which both entries agree, or that was settled."""
    spot = found.spot
    await _drop(db, found, number)
    if number == PRESENCE:
        chosen = fields[HERE].split()
        await keep_presence(db, tryout, request, spot, chosen)
        absence = rules.absence_after(spot.squad.id, spot.event.key, len(chosen), spot.absence)
        if absence != spot.absence:
            await keep_absence(db, tryout, request, spot, absence)
    else:
        values = rules.values(found.measure, fields)
        await save_attempt(db, tryout, request, spot, number, False, values, paper=True)
    said = await _note(db, request, found, number, fields)
    after = await typed_sheet(db, tryout, request, f"{spot.event.key}.{found.measure.key}", spot.squad.id)
    return Replace(message=words.saved(after.shown, number, said, after.runs, settled))


async def _drop(db: Transaction, found: TypedSheet, number: int) -> None:
    measure = "" if number == PRESENCE else found.measure.key
    await run_sheet_entries.drop(db, found.spot.squad.id, found.spot.event.key, measure, number)
