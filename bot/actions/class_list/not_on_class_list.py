"""Whoever is not on the class list says so and waits: the coach lets them in, says who they are, or turns them away."""

from bot.actions.class_list.pick_own_name import check_unknown
from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.squads.squads_changed import board_changed
from bot.rules.class_list import not_on_class_list as rules
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads import sign_up
from bot.rules.squads.names import check_person_name, name_keys
from bot.words.class_list import not_on_class_list as words
from bot.words.core.class_action_keys import ClassKey
from storage.records.class_list import WaitingStudent
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import class_lists, outbox, students, waiting_students
from storage.tables.sql_session import Conflict, Snapshot, Transaction


@view(ClassKey.LIST_WAITING, "coach")
async def waiting(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Show who waits."""
    return Replace(message=await _waiting_list(db, tryout, page))


@view(ClassKey.LIST_WAITS, "coach")
async def one_waiting(
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    waiting_id: int = 0,
    page: int | None = None,
    *,
    picked: int | None = None,
) -> Answer:
    """Show one who waits, picked from the list or from the notice in the office, with a page of the free names."""
    one = await _waiting(db, tryout, picked or waiting_id)
    free = rules.who_it_may_be(one, await class_lists.entries(db, tryout.id))
    message = words.one_waiting(one, free, page or 0)
    return Say(message=message) if picked is None and page is None else Replace(message=message)


@act(ClassKey.LIST_LET_IN, "coach")
async def let_in(db: Transaction, tryout: Tryout, request: Request, waiting_id: int) -> Answer:
    """Let a stranger in: the name is put on the list."""
    one = await _waiting(db, tryout, waiting_id)
    student_id = await students.enter_student(db, tryout.id, one.platform_id, one.name, one.section)
    try:
        await class_lists.add_entry(db, tryout.id, one.name, name_keys(one.name).folded, one.section, student_id)
    except Conflict:
        raise Refusal(Reason.NAME_IN_USE, name=one.name) from None
    return await _decided(db, tryout, request, one, student_id)


@act(ClassKey.LIST_SAME, "coach")
async def same(db: Transaction, tryout: Tryout, request: Request, waiting_id: int, *, picked: int) -> Answer:
    """A stranger is somebody on the list."""
    one, entry = await _waiting(db, tryout, waiting_id), await class_lists.entry(db, tryout.id, picked)
    if entry is None or entry.student_id is not None:
        raise Refusal(Reason.LIST_GONE)
    student_id = await students.enter_student(db, tryout.id, one.platform_id, entry.name, entry.section)
    await class_lists.link(db, entry.id, student_id)
    return await _decided(db, tryout, request, one, student_id)


async def _decided(db: Transaction, tryout: Tryout, request: Request, one: WaitingStudent, student_id: int) -> Answer:
    await waiting_students.stop_waiting(db, tryout.id, one.platform_id)
    await board_changed(db, tryout)
    await audit(db, tryout, request, "class-list.let-in", student=student_id)
    student = await students.student(db, student_id)
    assert student is not None
    return Replace(message=await _waiting_list(db, tryout, 0, words.let_in(student.name)))


@act(ClassKey.LIST_TURN_AWAY, "coach")
async def turn_away(db: Transaction, tryout: Tryout, request: Request, waiting_id: int) -> Answer:
    """A stranger does not take part."""
    one = await _waiting(db, tryout, waiting_id)
    await waiting_students.stop_waiting(db, tryout.id, one.platform_id)
    await audit(db, tryout, request, "class-list.turn-away", waiting=one.id)
    return Replace(message=await _waiting_list(db, tryout, 0, words.turned_away(one.name)))


async def _waiting_list(db: Snapshot, tryout: Tryout, page: int, said: str = "") -> Message:
    return words.waiting(rules.in_order(await waiting_students.waiting(db, tryout.id)), page, said)


async def _waiting(db: Snapshot, tryout: Tryout, waiting_id: int) -> WaitingStudent:
    one = await waiting_students.waiting_one(db, tryout.id, waiting_id)
    if one is None:
        raise Refusal(Reason.WAITING_GONE)
    return one


@view(ClassKey.LIST_STRANGER)
async def stranger(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form of who is not on the list."""
    await check_unknown(db, tryout, request)
    return Open(form=words.stranger_form(tryout.plan, request.name))


@act(ClassKey.LIST_ASKED)
async def asked(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Wait for the coach, who is told once."""
    await check_unknown(db, tryout, request)
    sign_up.check_section(tryout.plan, request.field("section"))
    name = check_person_name(request.field("name"))
    before = await waiting_students.waiting_of(db, tryout.id, request.who)
    since = rules.waits_since(before, request.at)
    one = await waiting_students.ask_in(db, tryout.id, request.who, name, request.field("section"), since)
    if rules.coach_is_told(before):
        await outbox.enqueue(db, tryout.id, "office", words.somebody_waits(one), request.at)
        await audit(db, tryout, request, "class-list.asked", waiting=one.id)
    return Say(message=words.waits(name))
