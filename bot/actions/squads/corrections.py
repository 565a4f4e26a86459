"""What the coach puts right: a student's name and section, two records of one student; and one press that undoes it."""

from datetime import datetime

from bot.actions.core.dispatch import act, audit, view
from bot.actions.squads.exclusive_roles import check_may_compete
from bot.actions.squads.keep_correction import keep_correction
from bot.actions.squads.squad_changes import board_changed, by_squad, every_squad_changed, tell_squad
from bot.actions.squads.students_admin import reason_of, squad_of, student_page, student_with_squad
from bot.rules.core.reasons import Reason
from bot.rules.core.refusal import Refusal
from bot.rules.squads import corrections as rules
from bot.rules.squads import eligibility
from bot.rules.squads.names import check_person_name, check_squad_name, name_keys
from bot.words.core.class_keys import ClassKey
from bot.words.squads import corrections as words
from bot.words.squads import squad_room
from storage.records.corrections import Correction
from storage.records.message import Answer, Open, Replace
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import class_lists, corrections, decisions, squads
from storage.tables.sql_session import Conflict, Snapshot, Transaction


@view(ClassKey.CORRECT_ASK, "coach")
async def ask_details(db: Snapshot, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Open the form for another name or section."""
    one, squad = await student_with_squad(db, tryout, student_id)
    return Open(form=words.details_form(tryout.plan, one, squad))


@act(ClassKey.CORRECT_DETAILS, "coach")
async def correct_details(db: Transaction, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Correct a student's name or section; a seat in a squad of another section takes a reason."""
    one, squad = await student_with_squad(db, tryout, student_id)
    name, section = check_person_name(request.field("name")), request.field("section")
    eligibility.check_section(tryout.plan, section)
    if (name, section) == (one.name, one.section):
        raise Refusal(Reason.NOTHING_TO_CORRECT)
    decision = None
    if squad is not None and section not in (one.section, squad.section):
        try:
            reason = reason_of(request)
        except Refusal:
            raise Refusal(Reason.SECTION_NEEDS_REASON, squad=squad.name, section=squad.section) from None
        decision = await decisions.decide(db, tryout.id, "seat", squad.id, one.id, reason, request.at)
    await squads.correct_student(db, one.id, name, section)
    await _list_follows(db, one.id, name, section)
    before, after = ({"name": value[0], "section": value[1]} for value in ((one.name, one.section), (name, section)))
    await keep_correction(db, request, "details", one, before, after, decision)
    await board_changed(db, tryout, *([squad.id] if squad else []))
    await audit(db, tryout, request, "correction.details", student=one.id)
    return Replace(message=await student_page(db, tryout, one.id))


async def _list_follows(db: Transaction, student_id: int, name: str, section: str) -> None:
    try:
        await class_lists.rename_entry(db, student_id, name, name_keys(name)[0], section)
    except Conflict:
        raise Refusal(Reason.LIST_HAS_NAME, name=name, section=section) from None


@view(ClassKey.JOIN_PICK, "coach")
async def pick_other(db: Snapshot, tryout: Tryout, request: Request, page: int, student_id: int) -> Answer:
    """Pick the other record of a student; those of the same section come first."""
    one, _ = await student_with_squad(db, tryout, student_id)
    rows = [(other, squad) for squad, members in await by_squad(db, tryout) for other in members if other.id != one.id]
    rows.sort(key=lambda row: (row[0].section != one.section, row[0].name.casefold()))
    return Replace(message=words.pick_other(one, rows, page))


@view(ClassKey.JOIN_SURE, "coach")
async def sure_to_join(db: Snapshot, tryout: Tryout, request: Request, student_id: int, *, picked: int) -> Answer:
    """Show what becomes one before it does."""
    stays, goes = await _pair(db, tryout, student_id, picked)
    return Replace(message=words.sure_to_join(stays, goes))


@act(ClassKey.JOINED, "coach")
async def join(db: Transaction, tryout: Tryout, request: Request, student_id: int, other_id: int) -> Answer:
    """Make two records of one student one."""
    stays, goes = await _pair(db, tryout, student_id, other_id)
    if goes.squad_id is not None and goes.platform_id is None and stays.platform_id is not None:
        await squads.want_in_room(db, goes.squad_id, stays.platform_id)
    if stays.squad_id is not None and stays.platform_id is None and goes.platform_id is not None:
        await squads.want_in_room(db, stays.squad_id, goes.platform_id)
    kept = await corrections.join_students(db, stays, goes)
    after = await corrections.seat_of(db, stays)
    await keep_correction(db, request, "join", stays, kept, after)
    await every_squad_changed(db, tryout)
    await audit(db, tryout, request, "correction.join", student=stays.id, other=goes.id)
    return Replace(message=await student_page(db, tryout, stays.id))


async def _pair(db: Snapshot, tryout: Tryout, student_id: int, other_id: int) -> tuple[Student, Student]:
    """Two records that may become one, or a Refusal."""
    stays, _ = await student_with_squad(db, tryout, student_id)
    goes, _ = await student_with_squad(db, tryout, other_id)
    if stays.squad_id is not None or goes.squad_id is not None:
        for one in (stays, goes):
            await check_may_compete(db, tryout, one.platform_id)
    rules.check_same_student(stays, goes, await corrections.clash(db, stays.id, goes.id))
    return stays, goes


@act(ClassKey.UNDO, "coach")
async def undo(db: Transaction, tryout: Tryout, request: Request, correction_id: int) -> Answer:
    """Undo a correction, while it is the last one and nothing hangs on it."""
    one = await corrections.correction(db, tryout.id, correction_id)
    if one is None or one.undone_at is not None:
        raise Refusal(Reason.CORRECTION_GONE)
    last = await corrections.last_of(db, student_id=one.student_id, squad_id=one.squad_id)
    if last is None or last.id != one.id:
        raise Refusal(Reason.CORRECTION_GONE)
    squad = None
    if one.student_id is not None:
        student, _ = await student_with_squad(db, tryout, one.student_id)
        await _undo_student(db, tryout, request, one, student)
    else:
        assert one.squad_id is not None
        squad = await _undo_rename(db, tryout, request, one, await squad_of(db, tryout, one.squad_id))
    await corrections.undone(db, one, request.at)
    await every_squad_changed(db, tryout)
    await audit(db, tryout, request, "correction.undone", correction=one.id)
    if squad is not None:
        return Replace(message=words.rename_undone(squad))
    assert one.student_id is not None
    return Replace(message=await student_page(db, tryout, one.student_id))


async def _undo_rename(db: Transaction, tryout: Tryout, request: Request, one: Correction, squad: Squad) -> Squad:
    if squad.name != one.after["name"]:
        raise Refusal(Reason.CORRECTION_HANGS)
    name = check_squad_name(one.before["name"], await squads.names(db, tryout.id, but=squad.id))
    await squads.rename(db, squad.id, name, name_keys(name))
    renamed = squad.model_copy(update={"name": name})
    await tell_squad(db, tryout, renamed, words.renamed_back(name), request)
    return renamed


async def _undo_student(db: Transaction, tryout: Tryout, request: Request, one: Correction, student: Student) -> None:
    if one.kind == "details":
        if {"name": student.name, "section": student.section} != one.after:
            raise Refusal(Reason.CORRECTION_HANGS)
        await squads.correct_student(db, student.id, one.before["name"], one.before["section"])
        await _list_follows(db, student.id, one.before["name"], one.before["section"])
        return
    if await corrections.seat_of(db, student) != one.after:
        raise Refusal(Reason.CORRECTION_HANGS)
    if one.kind == "join":
        await _part(db, one, student)
        return
    await _move_back(db, tryout, request, one, student)


async def _part(db: Transaction, one: Correction, student: Student) -> None:
    try:
        await corrections.part_students(db, student.id, one.before)
    except Conflict:
        raise Refusal(Reason.CORRECTION_HANGS) from None
    for row in one.before["rows"]:
        again = await squads.student(db, row["id"])
        assert again is not None
        if student.squad_id is not None and again.squad_id is None and again.platform_id is not None:
            await squads.leave_room(db, student.squad_id, again.platform_id)


async def _move_back(db: Transaction, tryout: Tryout, request: Request, one: Correction, student: Student) -> None:
    """Put a student back into the squad there was before, as captain if that was so; both squads read it."""
    old_id = one.before["squad_id"]
    old = await squads.squad(db, old_id) if old_id is not None else None
    touched = tuple(squad for squad in (old_id, student.squad_id) if squad is not None)
    if (old is not None and old.withdrawn) or await corrections.attempts_since(db, touched, one.made_at):
        raise Refusal(Reason.CORRECTION_HANGS)
    members = await squads.members(db, old.id) if old is not None else []
    if len(members) >= tryout.plan.squads.largest and any(_since(member, one.made_at) for member in members):
        # Somebody else has the seat by now.
        raise Refusal(Reason.CORRECTION_HANGS)
    if student.squad_id is not None:
        left = await squad_of(db, tryout, student.squad_id)
        await squads.unseat(db, student)
        await _captain_follows(db, left)
        await tell_squad(db, tryout, left, squad_room.went(student.name, None), request)
    if old is not None:
        await check_may_compete(db, tryout, student.platform_id)
        await squads.seat(db, student, old.id, datetime.fromisoformat(one.before["joined_at"]))
        await tell_squad(db, tryout, old, squad_room.came(student.name), request)
        if one.before["captain"]:
            await squads.set_captain(db, old.id, student.id)


def _since(member: Student, moment: datetime) -> bool:
    return member.joined_at is not None and member.joined_at > moment


async def _captain_follows(db: Transaction, squad: Squad) -> None:
    captain = eligibility.next_captain(squad, await squads.members(db, squad.id))
    await squads.set_captain(db, squad.id, captain.id if captain else None)
