"""The hand-in as the coach looks after it: read it, enter a part for a student who cannot, take one out."""

from bot.actions.core.dispatch import Work, act, audit, slow_view, view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.hand_in.member_parts import changed, event_of, part_keep, photo_of, read
from bot.actions.squads.students_admin import squad_of, student_with_squad
from bot.rules.core.reasons import Reason
from bot.rules.core.refusal import Refusal
from bot.rules.hand_in import parts as rules
from bot.words.core import refusals
from bot.words.core.action_keys import ActionKey
from bot.words.hand_in import coach_parts as words
from storage.records.hand_in import Part, Photo
from storage.records.message import Answer, Open, Replace, Say
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import hand_ins, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.HAND_IN_STUDENT, "coach")
async def student(db: Snapshot, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Show one student's part."""
    one, squad, part = await _found(db, tryout, student_id)
    return Replace(message=words.student(event_of(tryout), one, squad, part, _is_late(tryout, request)))


@view(ActionKey.HAND_IN_ENTER, "coach")
async def enter(db: Snapshot, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Open the form for a student's part; after the deadline it asks for the reason."""
    one, _, part = await _found(db, tryout, student_id)
    _check_may_enter(tryout, one, part)
    return Open(form=words.coach_part_form(one, part, _is_late(tryout, request)))


async def admit(db: Snapshot, tryout: Tryout, request: Request, student_id: int) -> None:
    """A photo is fetched only where a part may be entered, or a Refusal."""
    one, _, part = await _found(db, tryout, student_id)
    _check_may_enter(tryout, one, part)


@act(ActionKey.HAND_IN_ENTERED, "coach", before=photo_of, admits=admit)
async def entered(
    db: Transaction, tryout: Tryout, request: Request, student_id: int, *, prepared: Photo | Refusal | None
) -> Answer:
    """Keep a part that the coach enters for a student."""
    one, squad, part = await _found(db, tryout, student_id)
    _check_may_enter(tryout, one, part)
    late = _is_late(tryout, request)
    why_late = " ".join(request.fields.get("late", "").split())
    if late and len(why_late) < 3:
        raise Refusal(Reason.HAND_IN_LATE)
    await part_keep(db, tryout, request, one, squad, prepared, by_coach=True, late_reason=why_late if late else "")
    await audit(db, tryout, request, "hand-in.enter", squad=squad.id, student=one.id, late=late)
    return Say(message=words.kept(one, refusals.message(prepared).text if isinstance(prepared, Refusal) else ""))


@view(ActionKey.HAND_IN_REMOVE, "coach")
async def sure_to_remove(db: Snapshot, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Ask once before a student's part is deleted."""
    one, squad, part = await _found(db, tryout, student_id)
    if part is None:
        raise Refusal(Reason.HAND_IN_NONE)
    return Replace(message=words.sure_to_remove(one, squad))


@act(ActionKey.HAND_IN_REMOVED, "coach")
async def remove(db: Transaction, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Delete a student's part, such as one that should not be read by others."""
    one, squad, _ = await _found(db, tryout, student_id)
    if not await hand_ins.remove(db, one.id):
        raise Refusal(Reason.HAND_IN_NONE)
    await changed(db, tryout, squad.id)
    await audit(db, tryout, request, "hand-in.remove", squad=squad.id, student=one.id)
    return Replace(message=words.removed(one))


@slow_view(ActionKey.HAND_IN_SQUAD, "coach")
async def parts(db: Snapshot, tryout: Tryout, request: Request, page: int, squad_id: int) -> Work[Answer]:
    """Show the coach all parts of a squad."""
    squad = await squad_of(db, tryout, squad_id)
    members = await squads.members(db, squad.id)
    names = {one.id: one.name for one in members}
    return await read(db, tryout, squad, names, words.reading(squad, len(members)), page)


async def _found(db: Snapshot, tryout: Tryout, student_id: int) -> tuple[Student, Squad, Part | None]:
    event_of(tryout)
    one, squad = await student_with_squad(db, tryout, student_id)
    if squad is None:
        raise Refusal(Reason.IN_NO_SQUAD, student=one.name)
    return one, squad, await hand_ins.part(db, one.id)


def _is_late(tryout: Tryout, request: Request) -> bool:
    return not rules.is_open(tryout.state, schedule_of(tryout), request.at)


def _check_may_enter(tryout: Tryout, one: Student, part: Part | None) -> None:
    """The coach enters what is missing, and never other words for a student's own."""
    if tryout.state in ("announced", "archived"):
        raise Refusal(Reason.HAND_IN_OVER)
    if tryout.state in ("drafting", "signup"):
        raise Refusal(Reason.HAND_IN_NOT_YET, brief=int(schedule_of(tryout).brief.timestamp()))
    if part is not None and not part.by_coach:
        raise Refusal(Reason.HAND_IN_OWN_WORDS, student=one.name)
