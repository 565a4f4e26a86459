"""Students as the coach looks after them: enter one without an account, all to pick from, and one of them."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.squads.members import by_squad
from bot.actions.squads.squads_changed import board_changed
from bot.rules.class_list.attach_class_list import on_the_list
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.hand_in.member_parts import pieces_out
from bot.rules.squads import sign_up
from bot.rules.squads.names import check_person_name
from bot.rules.squads.students_admin import check_new, in_order
from bot.words.core.action_keys import ActionKey
from bot.words.squads import students_admin as words
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import class_lists, corrections, squads, students
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PEOPLE_ENTER, "coach")
async def enter(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for a student without an account."""
    return Open(form=words.enter_form(tryout.plan))


@act(ActionKey.PEOPLE_ENTERED, "coach")
async def entered(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Enter a student without an account."""
    sign_up.check_section(tryout.plan, request.field("section"))
    name = check_person_name(request.field("name"))
    check_new(name, request.field("section"), await students.students(db, tryout.id))
    student_id = await students.enter_student(db, tryout.id, None, name, request.field("section"))
    entry = on_the_list(name, request.field("section"), await class_lists.entries(db, tryout.id))
    if entry is not None:
        await class_lists.link(db, entry.id, student_id)
    await board_changed(db, tryout)
    await audit(db, tryout, request, "student.enter", student=student_id)
    return Say(message=await student_page(db, tryout, student_id))


@view(ActionKey.PEOPLE_STUDENTS, "coach")
async def list_students(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Pick a student; those without a squad come first."""
    return Replace(message=words.students(in_order(await by_squad(db, tryout)), page))


@view(ActionKey.PEOPLE_STUDENT, "coach")
async def student(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Show one student."""
    return Replace(message=await student_page(db, tryout, picked))


async def student_page(db: Snapshot, tryout: Tryout, student_id: int) -> Message:
    """One student as the coach sees them now."""
    hands_in = bool(pieces_out(tryout.plan, tryout.brief_at is not None))
    listed, entry = await class_lists.class_list(db, tryout.id), await class_lists.entry_of(db, student_id)
    answers = {one: entry.answers.get(one, False) for one in listed.columns} if listed and entry else None
    last = await corrections.last_of(db, student_id=student_id)
    return words.student(*await student_with_squad(db, tryout, student_id), hands_in, answers, last)


async def student_with_squad(db: Snapshot, tryout: Tryout, student_id: int) -> tuple[Student, Squad | None]:
    """A student of this try-out and the squad, if any.

    Raises:
        Refusal: `student_gone`.
    """
    one = await students.student(db, student_id)
    if one is None or one.tryout_id != tryout.id:
        raise Refusal(Reason.STUDENT_GONE)
    return one, await squads.squad(db, one.squad_id) if one.squad_id is not None else None


async def student_in_squad(db: Snapshot, tryout: Tryout, student_id: int) -> tuple[Student, Squad]:
    """A student of this try-out who is in a squad.

    Raises:
        Refusal: `student_gone`, `in_no_squad` (student).
    """
    one, squad = await student_with_squad(db, tryout, student_id)
    if squad is None:
        raise Refusal(Reason.IN_NO_SQUAD, student=one.name)
    return one, squad
