"""The hand-in as members of a squad see it: add a part, change it, take it back, read those of the others."""

from bot.actions.core.dispatch import Work, act, audit, slow_view, view
from bot.actions.core.live_messages import live_message
from bot.actions.core.photos import tidy_photo
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.squads.squad_changes import me_of, my_squad_of, when_squads_change
from bot.rules.core.reasons import Reason
from bot.rules.core.refusal import Refusal
from bot.rules.hand_in import parts as rules
from bot.words.core import refusals
from bot.words.core.action_keys import ActionKey
from bot.words.hand_in import member_parts as words
from storage.records.hand_in import Part, Photo
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.people import Squad, Student
from storage.records.plan import Event
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import hand_ins, queueing, squads
from storage.tables.sql_session import Snapshot, Transaction


def event_of(tryout: Tryout) -> Event:
    """The event for which squads hand something in.

    Raises:
        Refusal: `no_hand_in`.
    """
    event = rules.hand_in_event(tryout.plan)
    if event is None:
        raise Refusal(Reason.NO_HAND_IN)
    return event


def check_open(tryout: Tryout, request: Request) -> None:
    """Members may add and change parts, or a Refusal."""
    event_of(tryout)
    rules.check_open(tryout.state, schedule_of(tryout), request.at)


@live_message("hand-in")
async def living_card(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """What the live message `hand-in/SQUAD` shows; nothing for a squad that takes part no more."""
    squad, event = await squads.squad(db, int(key.partition("/")[2])), rules.hand_in_event(tryout.plan)
    if squad is None or squad.withdrawn or event is None:
        return None
    members, parts = await squads.members(db, squad.id), await hand_ins.parts(db, squad.id)
    return words.part_card(event, schedule_of(tryout), members, parts, tryout.state == "window")


async def place_cards(db: Transaction, tryout: Tryout) -> None:
    """Have a live message in the room of every squad, where squads hand something in and the brief is out."""
    if rules.hand_in_event(tryout.plan) is None or tryout.brief_at is None:
        return
    for squad in await squads.squads(db, tryout.id):
        await queueing.place_live_message(db, tryout.id, f"hand-in/{squad.id}", f"squad/{squad.id}")


@when_squads_change
async def squads_changed(db: Transaction, tryout: Tryout) -> None:
    """A new squad gets its live message; all of them name members."""
    await place_cards(db, tryout)
    await queueing.mark_stale(db, tryout.id, "hand-in/*")


@view(ActionKey.HAND_IN_ADD)
async def add(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for my part, filled with what I handed in before."""
    check_open(tryout, request)
    me, squad, _ = await my_squad_of(db, tryout, request)
    return Open(form=words.part_form(squad, await hand_ins.part(db, me.id)))


async def admit(db: Snapshot, tryout: Tryout, request: Request) -> None:
    """A photo is fetched only for a member of a squad while the hand-in is open, or a Refusal."""
    check_open(tryout, request)
    await my_squad_of(db, tryout, request)


async def photo_of(db: Snapshot, tryout: Tryout, request: Request) -> Work[Photo | Refusal | None]:
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
async def save(db: Transaction, tryout: Tryout, request: Request, *, prepared: Photo | Refusal | None) -> Answer:
    """Keep my part."""
    check_open(tryout, request)
    me, squad, members = await my_squad_of(db, tryout, request)
    await part_keep(db, tryout, request, me, squad, prepared)
    await audit(db, tryout, request, "hand-in.save", squad=squad.id, student=me.id)
    why = refusals.message(prepared).text if isinstance(prepared, Refusal) else ""
    return Say(message=words.part_saved(members, await hand_ins.parts(db, squad.id), why))


async def part_keep(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    one: Student,
    squad: Squad,
    photo: Photo | Refusal | None,
    **by_coach: bool | str,
) -> None:
    """Write a part as the form or the command has it; words that are not given stay as they are."""
    known = await hand_ins.part(db, one.id)
    reason = rules.check_reason(request.fields.get("why", known.reason if known else ""))
    part = Part(student_id=one.id, squad_id=squad.id, reason=reason, handed_in_at=request.at)
    await hand_ins.put(db, part.model_copy(update=by_coach))
    if isinstance(photo, Photo):
        await hand_ins.set_photo(db, one.id, photo)
    elif request.fields.get("keep") == "no":
        await hand_ins.set_photo(db, one.id, None)
    await changed(db, tryout, squad.id)


async def changed(db: Transaction, tryout: Tryout, squad_id: int) -> None:
    """A squad's live message must show what has changed."""
    await queueing.mark_stale(db, tryout.id, f"hand-in/{squad_id}")


@view(ActionKey.HAND_IN_TAKE_BACK)
async def sure_to_take_back(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask once before my part is deleted."""
    check_open(tryout, request)
    part = await _my_part(db, tryout, request)
    return Replace(message=words.sure_to_take_back(part.photo_sha256 is not None))


@act(ActionKey.HAND_IN_TAKEN_BACK)
async def take_back(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Delete my part."""
    check_open(tryout, request)
    part = await _my_part(db, tryout, request)
    await hand_ins.remove(db, part.student_id)
    await changed(db, tryout, part.squad_id)
    await audit(db, tryout, request, "hand-in.take-back", squad=part.squad_id, student=part.student_id)
    return Replace(message=words.taken_back())


async def _my_part(db: Snapshot, tryout: Tryout, request: Request) -> Part:
    me = await me_of(db, tryout, request)
    part = None if me is None else await hand_ins.part(db, me.id)
    if part is None:
        raise Refusal(Reason.HAND_IN_NONE)
    return part


@slow_view(ActionKey.HAND_IN_PARTS)
async def parts(db: Snapshot, tryout: Tryout, request: Request, page: int = 0) -> Work[Answer]:
    """Show the parts of my own squad, never those of another one."""
    event_of(tryout)
    me, squad, members = await my_squad_of(db, tryout, request)
    opened = rules.is_open(tryout.state, schedule_of(tryout), request.at)
    reading = words.mine(len(members), await hand_ins.part(db, me.id) is not None, opened)
    names = {one.id: one.name for one in members}
    return await read(db, tryout, squad, names, reading, page)


async def read(
    db: Snapshot, tryout: Tryout, squad: Squad, names: dict[int, str], reading: words.Reading, page: int
) -> Work[Answer]:
    """A page of a squad's parts under these names, with the photos that belong to it."""
    event, found = event_of(tryout), await hand_ins.parts(db, squad.id)
    shown = [words.Shown(name, found[member]) for member, name in names.items() if member in found]
    pages = words.paged(shown)
    on_page = pages[min(max(page, 0), len(pages) - 1)]
    photos = {one.part.student_id: await hand_ins.photo(db, one.part.student_id) for one in on_page}
    there = {student: data for student, data in photos.items() if data is not None}
    # Files take longer to travel than the platform waits: that is why this view is a slow one.
    return lambda: Say(message=words.parts_page(event, squad, shown, there, reading, page))
