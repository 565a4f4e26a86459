"""A student picks the own name from the class list; the coach is told of names that are taken, and links accounts."""

from bot.actions.core.audit import actor_of, audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.squads.asking_student import me_of
from bot.actions.squads.exclusive_roles import check_i_may_compete
from bot.actions.squads.squads_changed import board_changed
from bot.actions.squads.student_accounts import link_account
from bot.actions.squads.students_admin import student_with_squad
from bot.rules.class_list import pick_own_name as rules
from bot.rules.class_list.pick_own_name import in_order
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads import sign_up
from bot.words.class_list import pick_own_name as words
from bot.words.core.class_action_keys import ClassKey
from bot.words.squads import latecomers
from storage.records.class_list import ClassListEntry
from storage.records.message import Answer, Message, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import class_lists, outbox, students, waiting_students
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.LIST_SECTION)
async def section(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Show the names of the section that was picked."""
    return await _names(db, tryout, request, picked, 0)


@view(ClassKey.LIST_NAMES)
async def names(db: Snapshot, tryout: Tryout, request: Request, page: int, place: int) -> Answer:
    """Another page of the names of a section."""
    return await _names(db, tryout, request, place, page)


async def _names(db: Snapshot, tryout: Tryout, request: Request, place: int, page: int) -> Answer:
    await check_unknown(db, tryout, request)
    if place >= len(tryout.plan.sections):
        raise Refusal(Reason.OUT_OF_DATE)
    of = tryout.plan.sections[place]
    entries = [one for one in await class_lists.entries(db, tryout.id) if one.section == of]
    return Replace(message=words.names(place, of, in_order(entries), page))


@act(ClassKey.LIST_ME)
async def me(db: Transaction, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Be the student of a name on the list; a name that is picked twice is told to the coach, once."""
    late = await check_unknown(db, tryout, request)
    entry = await class_lists.entry(db, tryout.id, picked)
    if entry is None:
        raise Refusal(Reason.LIST_GONE)
    if entry.student_id is not None:
        return Replace(message=await _taken(db, tryout, request, entry))
    student_id = await students.enter_student(db, tryout.id, request.who, entry.name, entry.section)
    await class_lists.link(db, entry.id, student_id)
    await waiting_students.stop_waiting(db, tryout.id, request.who)
    student = await students.student(db, student_id)
    assert student is not None
    await board_changed(db, tryout)
    await audit(db, tryout, request, "student.enter", student=student_id)
    if late:
        await students.note_late(db, student_id, request.at)
        await outbox.enqueue(db, tryout.id, "office", latecomers.late_student(student), request.at)
        await audit(db, tryout, request, "student.late", student=student_id)
    return Replace(message=words.known(student, late))


async def _taken(db: Transaction, tryout: Tryout, request: Request, entry: ClassListEntry) -> Message:
    """Somebody is that student already: what the coach and the asker are told."""
    assert entry.student_id is not None
    holder = await students.student(db, entry.student_id)
    kind = rules.kind_of_claim(holder)
    without = kind == "has-account"
    person = actor_of(tryout, request.who)
    new = await class_lists.claim(db, entry.id, person, kind)
    if not rules.coach_is_told(await class_lists.claims_by(db, tryout.id, person)):
        return words.picked_many()
    if new:
        notice = (
            words.has_account_now(entry, request.who, request.name)
            if without
            else words.picked_twice(entry, request.name)
        )
        await outbox.enqueue(db, tryout.id, "office", notice, request.at)
        await audit(db, tryout, request, f"class-list.{kind}", entry=entry.id, person=person)
    return words.entered_by_coach(entry) if without else words.picked_already(entry)


@act(ClassKey.LIST_LINK, "coach")
async def link(db: Transaction, tryout: Tryout, request: Request, entry_id: int, account: int) -> Answer:
    """The account that asked is the student whom the coach has entered."""
    entry = await class_lists.entry(db, tryout.id, entry_id)
    if entry is None or entry.student_id is None:
        raise Refusal(Reason.LIST_GONE)
    one, _ = await student_with_squad(db, tryout, entry.student_id)
    await link_account(db, tryout, request, one, account)
    await waiting_students.stop_waiting(db, tryout.id, account)
    return Replace(message=words.linked(one.name))


async def check_unknown(db: Snapshot, tryout: Tryout, request: Request) -> bool:
    """Somebody may still sign up, and is not known yet; whether it is so late that the coach must place them."""
    if await class_lists.class_list(db, tryout.id) is None:
        raise Refusal(Reason.OUT_OF_DATE)
    known = await me_of(db, tryout, request)
    if known is not None:
        raise Refusal(Reason.KNOWN_ALREADY, name=known.name)
    await check_i_may_compete(db, tryout, request)
    closes = schedule_of(tryout).signup_closes
    return rules.comes_late(tryout.state, sign_up.signup_is_open(tryout.state, closes, request.at))
