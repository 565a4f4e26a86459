"""One press undoes a correction, a move or two records joined, while it is the last and nothing hangs on it."""

from datetime import datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act
from bot.actions.squads.correct_student import list_follows
from bot.actions.squads.exclusive_roles import check_may_compete
from bot.actions.squads.founding import free_name
from bot.actions.squads.squads_admin import squad_of
from bot.actions.squads.squads_changed import every_squad_changed, tell_squad
from bot.actions.squads.students_admin import student_page, student_with_squad
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads import undo_correction as rules
from bot.rules.squads.captain import next_captain
from bot.rules.squads.names import name_keys
from bot.words.core.class_action_keys import ClassKey
from bot.words.squads import squad_room
from bot.words.squads import undo_correction as words
from storage.records.decisions_and_corrections import Correction
from storage.records.message import Answer, Replace
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import corrections, merge_student_records, squad_room_members, squads, students
from storage.tables.sql_session import Conflict, Transaction


@act(ClassKey.UNDO, "coach")
async def undo(db: Transaction, tryout: Tryout, request: Request, correction_id: int) -> Answer:
    """Undo a correction, while it is the last one and nothing hangs on it."""
    found = await corrections.correction(db, tryout.id, correction_id)
    about = {"student_id": found.student_id, "squad_id": found.squad_id} if found else {}
    one = rules.check_last(found, await corrections.last_of(db, **about))
    squad = None
    if one.student_id is not None:
        student, _ = await student_with_squad(db, tryout, one.student_id)
        await _undo_student(db, tryout, request, one, student)
    else:
        assert one.squad_id is not None
        squad = await _undo_rename(db, tryout, request, one, await squad_of(db, tryout, one.squad_id))
    await corrections.undone(db, one, request.at)
    await every_squad_changed(db, tryout)
    named = {"student": one.student_id} if one.kind == "details" else {"squad": one.squad_id}
    await audit(db, tryout, request, "correction.undone", correction=one.id, **named)
    if squad is not None:
        return Replace(message=words.rename_undone(squad))
    assert one.student_id is not None
    return Replace(message=await student_page(db, tryout, one.student_id))


async def _undo_rename(db: Transaction, tryout: Tryout, request: Request, one: Correction, squad: Squad) -> Squad:
    rules.check_as_corrected({"name": squad.name}, one.after)
    name = await free_name(db, tryout, one.before["name"], squad)
    await squads.rename(db, squad.id, name, name_keys(name))
    renamed = squad.model_copy(update={"name": name})
    await tell_squad(db, tryout, renamed, words.renamed_back(name), request)
    return renamed


async def _undo_student(db: Transaction, tryout: Tryout, request: Request, one: Correction, student: Student) -> None:
    if one.kind == "details":
        rules.check_as_corrected({"name": student.name, "section": student.section}, one.after)
        await students.correct_student(db, student.id, one.before["name"], one.before["section"])
        await list_follows(db, student.id, one.before["name"], one.before["section"])
        return
    rules.check_as_corrected(await corrections.seat_of(db, student), one.after)
    if one.kind == "join":
        await _part(db, one, student)
        return
    await _move_back(db, tryout, request, one, student)


async def _part(db: Transaction, one: Correction, student: Student) -> None:
    try:
        await merge_student_records.part_students(db, student.id, one.before)
    except Conflict:
        raise Refusal(Reason.CORRECTION_HANGS) from None
    for row in one.before["rows"]:
        again = await students.student(db, row["id"])
        assert again is not None
        if student.squad_id is not None and again.squad_id is None and again.platform_id is not None:
            await squad_room_members.leave_room(db, student.squad_id, again.platform_id)


async def _move_back(db: Transaction, tryout: Tryout, request: Request, one: Correction, student: Student) -> None:
    """Put a student back into the squad there was before, as captain if that was so; both squads read it."""
    old_id = one.before["squad_id"]
    old = await squads.squad(db, old_id) if old_id is not None else None
    touched = tuple(squad for squad in (old_id, student.squad_id) if squad is not None)
    members = await squads.members(db, old.id) if old is not None else []
    attempts = await corrections.attempts_since(db, touched, one.made_at)
    rules.check_may_go_back(old, members, tryout.plan.squads.largest, attempts, one.made_at)
    if student.squad_id is not None:
        left = await squad_of(db, tryout, student.squad_id)
        await students.unseat(db, student)
        await _captain_follows(db, left)
        await tell_squad(db, tryout, left, squad_room.went(student.name, None), request)
    if old is not None:
        await check_may_compete(db, tryout, student.platform_id)
        await students.seat(db, student, old.id, datetime.fromisoformat(one.before["joined_at"]))
        await tell_squad(db, tryout, old, squad_room.came(student.name), request)
        if one.before["captain"]:
            await squads.set_captain(db, old.id, student.id)


async def _captain_follows(db: Transaction, squad: Squad) -> None:
    captain = next_captain(squad, await squads.members(db, squad.id))
    await squads.set_captain(db, squad.id, captain.id if captain else None)
