"""What the coach does for students: enter one without an account, place, move, take out, make captain."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.squads.keep_correction import keep_move
from bot.actions.squads.seats import by_squad, give_up_seat, take_seat
from bot.actions.squads.squads_changed import board_changed, tell_squad
from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.typed_reason import reason_of
from bot.rules.hand_in.member_parts import hand_in_events
from bot.rules.squads import sign_up
from bot.rules.squads.names import alike, check_person_name, name_keys
from bot.rules.squads.students_admin import in_order
from bot.words.core.action_keys import ActionKey
from bot.words.squads import squad_room
from bot.words.squads import students_admin as words
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import class_lists, corrections, decisions, squads, students
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
    await _check_new(db, tryout, name, request.field("section"))
    student_id = await students.enter_student(db, tryout.id, None, name, request.field("section"))
    await class_lists.link_by_name(db, tryout.id, student_id, name_keys(name).folded, request.field("section"))
    await board_changed(db, tryout)
    await audit(db, tryout, request, "student.enter", student=student_id)
    return Say(message=await student_page(db, tryout, student_id))


async def _check_new(db: Snapshot, tryout: Tryout, name: str, section: str) -> None:
    """Nobody of a section has that name yet, or a Refusal: `student_there` (name, section)."""
    for one in await students.students(db, tryout.id):
        if one.section == section and alike(one.name, name):
            raise Refusal(ClassReason.STUDENT_THERE, name=one.name, section=section)


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
    hands_in = tryout.brief_at is not None and bool(hand_in_events(tryout.plan))
    listed, entry = await class_lists.class_list(db, tryout.id), await class_lists.entry_of(db, student_id)
    answers = {one: entry.answers.get(one, False) for one in listed.columns} if listed and entry else None
    last = await corrections.last_of(db, student_id=student_id)
    return words.student(*await student_with_squad(db, tryout, student_id), hands_in, answers, last)


@view(ActionKey.PEOPLE_PLACE, "coach")
async def place(db: Snapshot, tryout: Tryout, request: Request, student_id: int, page: int) -> Answer:
    """Pick a squad for a student."""
    one, _ = await student_with_squad(db, tryout, student_id)
    sizes = [(squad, len(members)) for squad, members in await by_squad(db, tryout) if squad is not None]
    has_part = one.squad_id is not None and bool(await corrections.parts(db, one.id))
    return Replace(message=words.pick_squad(one, sizes, tryout.plan, page, has_part))


@act(ActionKey.PEOPLE_PLACED, "coach")
async def placed(db: Transaction, tryout: Tryout, request: Request, student_id: int, *, picked: int) -> Answer:
    """Put a student into a squad; where the plan does not give the seat, ask for a reason."""
    one, old = await student_with_squad(db, tryout, student_id)
    squad = await squad_of(db, tryout, picked)
    _check_elsewhere(one, squad)
    try:
        sign_up.check_can_join(tryout.plan, one, squad, await squads.members(db, squad.id))
    except Refusal:
        return Replace(message=words.needs_reason(one, squad, tryout.plan))
    before = await corrections.seat_of(db, one)
    await _seat(db, tryout, request, one, old, squad)
    await keep_move(db, request, one, before)
    return Replace(message=await student_page(db, tryout, one.id))


@view(ActionKey.PEOPLE_EXCEPT, "coach")
async def ask_reason(db: Snapshot, tryout: Tryout, request: Request, student_id: int, squad_id: int) -> Answer:
    """Open the form for the reason of a seat that the plan does not give."""
    one, _ = await student_with_squad(db, tryout, student_id)
    squad = await squad_of(db, tryout, squad_id)
    _check_elsewhere(one, squad)
    return Open(form=words.except_form(one, squad))


@act(ActionKey.PEOPLE_EXCEPTED, "coach")
async def place_anyway(db: Transaction, tryout: Tryout, request: Request, student_id: int, squad_id: int) -> Answer:
    """Put a student into a squad for a reason, whatever its size and section."""
    one, old = await student_with_squad(db, tryout, student_id)
    squad = await squad_of(db, tryout, squad_id)
    _check_elsewhere(one, squad)
    reason = reason_of(request)
    before = await corrections.seat_of(db, one)
    await _seat(db, tryout, request, one, old, squad)
    decision = await decisions.decide(db, tryout.id, "seat", squad.id, one.id, reason, request.at)
    await audit(db, tryout, request, "decision.seat", decision=decision, squad=squad.id, student=one.id)
    await keep_move(db, request, one, before, decision)
    return Replace(message=await student_page(db, tryout, one.id))


@view(ActionKey.PEOPLE_OUT, "coach")
async def sure_to_take_out(db: Snapshot, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Ask once before a student is taken out of a squad."""
    one, squad = await student_in_squad(db, tryout, student_id)
    return Replace(message=words.sure_to_take_out(one, squad))


@act(ActionKey.PEOPLE_TAKEN, "coach")
async def take_out(db: Transaction, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Take a student out of a squad."""
    one, squad = await student_in_squad(db, tryout, student_id)
    before = await corrections.seat_of(db, one)
    await give_up_seat(db, tryout, request, one, squad)
    await keep_move(db, request, one, before)
    return Replace(message=await student_page(db, tryout, one.id))


@act(ActionKey.PEOPLE_LEAD, "coach")
async def lead(db: Transaction, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Make a student captain of the own squad."""
    one, squad = await student_in_squad(db, tryout, student_id)
    await squads.set_captain(db, squad.id, one.id)
    await board_changed(db, tryout, squad.id)
    await tell_squad(db, tryout, squad, squad_room.handed_over(one), request)
    await audit(db, tryout, request, "squad.captain", squad=squad.id, student=one.id)
    return Replace(message=await student_page(db, tryout, one.id))


async def _seat(
    db: Transaction, tryout: Tryout, request: Request, one: Student, old: Squad | None, squad: Squad
) -> None:
    if old is not None:
        await give_up_seat(db, tryout, request, one, old)
    await take_seat(db, tryout, request, one, squad, "place")


def _check_elsewhere(one: Student, squad: Squad) -> None:
    if one.squad_id == squad.id:
        raise Refusal(Reason.SAME_SQUAD, student=one.name, squad=squad.name)


async def squad_of(db: Snapshot, tryout: Tryout, squad_id: int) -> Squad:
    """A squad that takes part in this try-out.

    Raises:
        Refusal: `squad_withdrawn`.
    """
    squad = await squads.squad(db, squad_id)
    if squad is None or squad.withdrawn or squad.tryout_id != tryout.id:
        raise Refusal(Reason.SQUAD_WITHDRAWN)
    return squad


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
