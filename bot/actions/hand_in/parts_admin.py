"""The hand-in as the coach looks after it: read it, enter a part for a student who cannot, take one out."""

from bot.actions.core.audit import audit
from bot.actions.core.changed_meanwhile import Noted, overtaken
from bot.actions.core.dispatch import Work, act, slow_view, view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.hand_in.member_parts import changed, event_of, events_of, is_open, part_keep, photo_of, read
from bot.actions.squads.squads_admin import squad_of
from bot.actions.squads.students_admin import student_with_squad
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.hand_in.parts_admin import check_late_reason, check_may_enter
from bot.words.core import refusals
from bot.words.core.action_keys import ActionKey
from bot.words.core.changed_meanwhile import stamped
from bot.words.hand_in import parts_admin as words
from bot.words.hand_in.member_parts import which_piece
from storage.records.hand_in import Part, Photo
from storage.records.message import Answer, Open, Replace, Say
from storage.records.people import Squad, Student
from storage.records.plan import Event
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import member_parts, squads
from storage.tables.sql_session import Snapshot, Transaction

_CHANGES = ("hand-in.enter", "hand-in.remove", "hand-in.save", "hand-in.take-back")


@view(ActionKey.HAND_IN_STUDENT, "coach")
async def student(db: Snapshot, tryout: Tryout, request: Request, student_id: int, piece: str = "") -> Answer:
    """Show one student's part; of several pieces one is picked first."""
    if not piece and len(events_of(tryout)) > 1:
        return Replace(message=which_piece(events_of(tryout), ActionKey.HAND_IN_STUDENT, student_id))
    event, one, squad, part = await _found(db, tryout, student_id, piece)
    return Replace(message=words.student(event, one, squad, part, await _is_late(db, tryout, squad, request)))


@view(ActionKey.HAND_IN_ENTER, "coach")
async def enter(db: Snapshot, tryout: Tryout, request: Request, student_id: int, piece: str = "") -> Answer:
    """Open the form for a student's part; after the deadline it asks for the reason."""
    event, one, squad, part = await _found(db, tryout, student_id, piece)
    _check_may_enter(tryout, one, part)
    return Open(form=stamped(words.coach_part_form(event, one, part, await _is_late(db, tryout, squad, request))))


async def admit(
    db: Snapshot, tryout: Tryout, request: Request, student_id: int, piece: str = "", stamp: str = ""
) -> None:
    """A photo is fetched only where a part may be entered, or a Refusal."""
    _, one, _, part = await _found(db, tryout, student_id, piece)
    _check_may_enter(tryout, one, part)


@act(ActionKey.HAND_IN_ENTERED, "coach", before=photo_of, admits=admit)
async def entered(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    student_id: int,
    piece: str = "",
    stamp: str = "",
    *,
    prepared: Photo | Refusal | None,
) -> Answer:
    """Keep a part that the coach enters for a student, if nobody else has changed it meanwhile."""
    event, one, squad, part = await _found(db, tryout, student_id, piece)
    _check_may_enter(tryout, one, part)
    late = await _is_late(db, tryout, squad, request)
    now, opens = words.coach_part_form(event, one, part, late), (ActionKey.HAND_IN_ENTER, one.id, event.key)
    noted = Noted(_CHANGES, {"student": one.id, "event": event.key})
    if (told := await overtaken(db, tryout, request, now, stamp, opens, noted)) is not None:
        return told
    late_reason = check_late_reason(late, request.fields.get("late", ""))
    await part_keep(db, tryout, request, event, one, squad, prepared, by_coach=True, late_reason=late_reason)
    await audit(db, tryout, request, "hand-in.enter", squad=squad.id, student=one.id, event=event.key, late=late)
    return Say(message=words.kept(event, one, refusals.message(prepared).text if isinstance(prepared, Refusal) else ""))


@view(ActionKey.HAND_IN_REMOVE, "coach")
async def sure_to_remove(db: Snapshot, tryout: Tryout, request: Request, student_id: int, piece: str = "") -> Answer:
    """Ask once before a student's part is deleted."""
    event, one, squad, part = await _found(db, tryout, student_id, piece)
    if part is None:
        raise Refusal(Reason.HAND_IN_NONE)
    return Replace(message=words.sure_to_remove(event, one, squad))


@act(ActionKey.HAND_IN_REMOVED, "coach")
async def remove(db: Transaction, tryout: Tryout, request: Request, student_id: int, piece: str = "") -> Answer:
    """Delete a student's part, such as one that should not be read by others."""
    event, one, squad, _ = await _found(db, tryout, student_id, piece)
    if not await member_parts.remove(db, one.id, event.key):
        raise Refusal(Reason.HAND_IN_NONE)
    await changed(db, tryout, squad.id)
    await audit(db, tryout, request, "hand-in.remove", squad=squad.id, student=one.id, event=event.key)
    return Replace(message=words.removed(event, one))


@slow_view(ActionKey.HAND_IN_SQUAD, "coach")
async def parts(
    db: Snapshot, tryout: Tryout, request: Request, page: int, squad_id: int, piece: str = ""
) -> Work[Answer]:
    """Show the coach all parts of a squad for one piece."""
    event, squad = event_of(tryout, piece), await squad_of(db, tryout, squad_id)
    members = await squads.members(db, squad.id)
    names = {one.id: one.name for one in members}
    return await read(db, event, squad, names, words.reading(event, squad, len(members)), page)


async def _found(
    db: Snapshot, tryout: Tryout, student_id: int, piece: str
) -> tuple[Event, Student, Squad, Part | None]:
    event = event_of(tryout, piece)
    one, squad = await student_with_squad(db, tryout, student_id)
    if squad is None:
        raise Refusal(Reason.IN_NO_SQUAD, student=one.name)
    return event, one, squad, await member_parts.part(db, one.id, event.key)


async def _is_late(db: Snapshot, tryout: Tryout, squad: Squad, request: Request) -> bool:
    return not await is_open(db, tryout, squad.id, request.at)


def _check_may_enter(tryout: Tryout, one: Student, part: Part | None) -> None:
    check_may_enter(tryout.state, tryout.result_stands, schedule_of(tryout).brief, one, part)
