"""The hand-in as members of a squad see it: add a part, change it, take it back, read those of the others."""

from collections.abc import Collection
from datetime import datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, slow_view, view
from bot.actions.core.live_messages import live_message
from bot.actions.core.photos import tidy_photo
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.squads.asking_student import me_of, my_squad_of
from bot.actions.squads.squads_changed import when_squads_change
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.hand_in import member_parts as rules
from bot.words.core import refusals
from bot.words.core.action_keys import ActionKey
from bot.words.core.written_given_back import given_back
from bot.words.hand_in import member_parts as words
from bot.words.privacy.erased_labels import FORMER
from storage.records.hand_in import Part, Photo
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.people import Squad, Student
from storage.records.plan import Event
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import live_messages, member_parts, more_time, squads
from storage.tables.sql_session import Snapshot, Transaction


def events_of(tryout: Tryout) -> tuple[Event, ...]:
    """The events for which squads hand a piece in.

    Raises:
        Refusal: `no_hand_in`.
    """
    events = rules.hand_in_events(tryout.plan)
    if not events:
        raise Refusal(Reason.NO_HAND_IN)
    return events


def event_of(tryout: Tryout, typed: str, why: str = "") -> Event:
    """The event with the piece that is meant by its key or name; where there is one piece only, it need not be said.

    Raises:
        Refusal: `no_hand_in`; `hand_in_which` (pieces, why), which gives back what was written.
    """
    events = events_of(tryout)
    event = rules.named_piece(events, typed)
    if event is None:
        raise Refusal(Reason.HAND_IN_WHICH, pieces=words.named(events), why=given_back(why))
    return event


async def check_open(db: Snapshot, tryout: Tryout, request: Request) -> None:
    """Members may add and change parts, or a Refusal; a squad may have more time than others."""
    events_of(tryout)
    me = await me_of(db, tryout, request)
    extended = await more_time.extended(db, me.squad_id) if me is not None and me.squad_id is not None else None
    rules.check_open(tryout.state, schedule_of(tryout), request.at, extended)


async def is_open(db: Snapshot, tryout: Tryout, squad_id: int, now: datetime) -> bool:
    """Whether a squad may add and change parts; it may have more time than others."""
    return rules.is_open(tryout.state, schedule_of(tryout), now, await more_time.extended(db, squad_id))


async def _check_in_time(db: Snapshot, tryout: Tryout, request: Request) -> None:
    """The same for a part that was sent: who is too late reads again what they wrote."""
    try:
        await check_open(db, tryout, request)
    except Refusal as refusal:
        written = {"why": given_back(request.fields.get("why", ""))} if "why" in refusal.fields else {}
        raise Refusal(refusal.reason, **(refusal.fields | written)) from None


@live_message("hand-in")
async def parts_in_room(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """What the live message `hand-in/SQUAD/EVENT` shows; nothing for a squad that takes part no more."""
    _, squad_id, event_key = key.split("/")
    squad = await squads.squad(db, int(squad_id))
    event = next((one for one in rules.hand_in_events(tryout.plan) if one.key == event_key), None)
    if squad is None or squad.withdrawn or event is None:
        return None
    members, parts = await squads.members(db, squad.id), await member_parts.parts(db, squad.id, event.key)
    extended = await more_time.extended(db, squad.id)
    opened = rules.is_shown_open(tryout.state, extended)
    ends = rules.ends(schedule_of(tryout).deadline, extended)
    return words.parts_in_room(event, ends, members, parts, opened)


@when_squads_change
async def place_part_messages(db: Transaction, tryout: Tryout, squad_ids: Collection[int]) -> None:
    """Have a live message for each piece in the room of each of these squads, once the brief is out; it names members.

    That of a squad that takes part no more is shown anew, too, and so taken down.
    """
    events = rules.pieces_out(tryout.plan, tryout.brief_at is not None)
    shown = [(f"hand-in/{squad_id}/{event.key}", f"squad/{squad_id}") for event in events for squad_id in squad_ids]
    await live_messages.place_all(db, tryout.id, shown)


@view(ActionKey.HAND_IN_ADD)
async def add(db: Snapshot, tryout: Tryout, request: Request, piece: str = "") -> Answer:
    """Open the form for my part, filled with what I handed in before; of several pieces one is picked first."""
    await check_open(db, tryout, request)
    me, squad, _ = await my_squad_of(db, tryout, request)
    if not piece and len(events_of(tryout)) > 1:
        return Say(message=words.which_piece(events_of(tryout), ActionKey.HAND_IN_ADD))
    event = event_of(tryout, piece)
    return Open(form=words.part_form(event, squad, await member_parts.part(db, me.id, event.key)))


async def admit(db: Snapshot, tryout: Tryout, request: Request, piece: str = "") -> None:
    """A photo is fetched only for a member of a squad while the hand-in is open, or a Refusal."""
    await _check_in_time(db, tryout, request)
    await my_squad_of(db, tryout, request)


async def photo_of(db: Snapshot, tryout: Tryout, request: Request, *_: str) -> Work[Photo | Refusal | None]:
    """The photo that was sent, made ready to be kept; or why it cannot be, so that the words are not lost with it."""
    upload = request.uploads.get("photo")

    def tidy() -> Photo | Refusal | None:
        if upload is None:
            return None
        try:
            return tidy_photo(upload)
        except Refusal as refusal:
            return refusal

    return tidy


@act(ActionKey.HAND_IN_SAVE, before=photo_of, admits=admit)
async def save(
    db: Transaction, tryout: Tryout, request: Request, piece: str = "", *, prepared: Photo | Refusal | None
) -> Answer:
    """Keep my part; a command names the piece in its fields."""
    await _check_in_time(db, tryout, request)
    me, squad, members = await my_squad_of(db, tryout, request)
    event = event_of(tryout, piece or request.fields.get("piece", ""), request.fields.get("why", ""))
    await part_keep(db, tryout, request, event, me, squad, prepared)
    await audit(db, tryout, request, "hand-in.save", squad=squad.id, student=me.id, event=event.key)
    why = refusals.message(prepared).text if isinstance(prepared, Refusal) else ""
    parts = await member_parts.parts(db, squad.id, event.key)
    return Say(message=words.part_saved(event, squad, me, members, parts, why))


async def part_keep(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    event: Event,
    one: Student,
    squad: Squad,
    photo: Photo | Refusal | None,
    **by_coach: bool | str,
) -> None:
    """Write a part as the form or the command has it; words that are not given stay as they are."""
    known = await member_parts.part(db, one.id, event.key)
    reason = rules.check_reason(request.fields.get("why", known.reason if known else ""))
    part = Part(student_id=one.id, squad_id=squad.id, event=event.key, reason=reason, handed_in_at=request.at)
    await member_parts.put(db, part.model_copy(update=by_coach), rules.photo_stays(known))
    if isinstance(photo, Photo):
        await member_parts.set_photo(db, one.id, event.key, photo)
    elif request.fields.get("keep") == "no":
        await member_parts.set_photo(db, one.id, event.key, None)
    await changed(db, tryout, squad.id)


async def changed(db: Transaction, tryout: Tryout, squad_id: int) -> None:
    """A squad's live messages must show what has changed."""
    await live_messages.mark_stale(db, tryout.id, f"hand-in/{squad_id}/*")


@view(ActionKey.HAND_IN_TAKE_BACK)
async def sure_to_take_back(db: Snapshot, tryout: Tryout, request: Request, piece: str = "") -> Answer:
    """Ask once before my part is deleted."""
    await check_open(db, tryout, request)
    event = event_of(tryout, piece)
    part = await _my_part(db, tryout, request, event)
    return Replace(message=words.sure_to_take_back(event, part.photo_sha256 is not None))


@act(ActionKey.HAND_IN_TAKEN_BACK)
async def take_back(db: Transaction, tryout: Tryout, request: Request, piece: str = "") -> Answer:
    """Delete my part."""
    await check_open(db, tryout, request)
    event = event_of(tryout, piece)
    part = await _my_part(db, tryout, request, event)
    await member_parts.remove(db, part.student_id, event.key)
    await changed(db, tryout, part.squad_id)
    await audit(db, tryout, request, "hand-in.take-back", squad=part.squad_id, student=part.student_id, event=event.key)
    return Replace(message=words.taken_back(event))


async def _my_part(db: Snapshot, tryout: Tryout, request: Request, event: Event) -> Part:
    me = await me_of(db, tryout, request)
    part = None if me is None else await member_parts.part(db, me.id, event.key)
    if part is None:
        raise Refusal(Reason.HAND_IN_NONE)
    return part


@slow_view(ActionKey.HAND_IN_PARTS)
async def parts(db: Snapshot, tryout: Tryout, request: Request, page: int = 0, piece: str = "") -> Work[Answer]:
    """Show the parts of my own squad, never those of another one; of several pieces one is picked first."""
    events = events_of(tryout)
    me, squad, members = await my_squad_of(db, tryout, request)
    if not piece and len(events) > 1:
        return lambda: Say(message=words.which_piece(events, ActionKey.HAND_IN_PARTS, 0))
    event = event_of(tryout, piece)
    opened = await is_open(db, tryout, squad.id, request.at)
    reading = words.mine(event, len(members), await member_parts.part(db, me.id, event.key) is not None, opened)
    names = {one.id: one.name for one in members}
    return await read(db, event, squad, names, reading, page)


async def read(
    db: Snapshot, event: Event, squad: Squad, names: dict[int, str], reading: words.Reading, page: int
) -> Work[Answer]:
    """A page of a squad's parts under these names, with the photos that belong to it."""
    found = await member_parts.parts(db, squad.id, event.key)
    left = await member_parts.left_behind(db, squad.id, event.key)
    order, there = rules.read_order(list(names), found, left), {**left, **found}
    shown = [words.Shown(names[one] if one in found else FORMER, there[one]) for one in order]
    pages = words.paged(shown)
    on_page = pages[min(max(page, 0), len(pages) - 1)]
    photos = await member_parts.photos(db, squad.id, event.key, [one.part.student_id for one in on_page])
    # Files take longer to travel than the platform waits: that is why this view is a slow one.
    return lambda: Say(message=words.parts_page(event, squad, shown, photos, reading, page))
