"""Sign-up: who may, under which name; start a squad, find one, join one, or ask for one."""

from typing import Literal

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.live_messages import live_message
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.core.signup_runs import signup_runs
from bot.actions.squads.asking_student import check_open, me_of
from bot.actions.squads.exclusive_roles import check_i_may_compete
from bot.actions.squads.founding import free_name, new_code
from bot.actions.squads.members import take_seat
from bot.actions.squads.squads_changed import board_changed, tell_squad
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads import sign_up as rules
from bot.rules.squads.join_and_link_codes import tidy_code
from bot.rules.squads.names import check_person_name, name_keys
from bot.words.core.action_keys import ActionKey
from bot.words.squads import sign_up as words
from bot.words.squads import squad_room
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import class_lists, squads, students
from storage.tables.sql_session import Snapshot, Transaction


@live_message("signup")
async def panel(db: Snapshot, tryout: Tryout, key: str) -> Message | None:
    """The pinned message of sign-up; gone once the try-out is put away."""
    if not rules.panel_is_shown(tryout.state):
        return None
    return words.sign_up_panel(tryout, schedule_of(tryout).signup_closes, await signup_runs(db, tryout))


@view(ActionKey.SQUAD_START)
async def start(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form that starts a squad."""
    check_open(tryout, request)
    me = await me_of(db, tryout, request)
    await check_may_sign_up(db, tryout, request, me)
    if me is not None:
        await check_unattached(db, me)
    if await has_list(db, tryout):
        return Open(form=words.start_form_of_list())
    name, section = rules.proposed_name(me, request.name), rules.proposed_section(me)
    return Open(form=words.start_form(tryout.plan, name, section))


@act(ActionKey.SQUAD_FOUND)
async def found(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Start a squad; the one who does is its captain."""
    check_open(tryout, request)
    name = await free_name(db, tryout, request.field("squad"))
    me = await enter_me(db, tryout, request, request.fields.get("section", ""))
    code = await new_code(db, tryout, request)
    squad = await squads.found_squad(db, me, name, name_keys(name), code, request.at)
    await students.seat(db, me, squad.id, request.at)
    await tell_squad(db, tryout, squad, squad_room.welcome_to_room(tryout.plan, squad), request)
    await board_changed(db, tryout, squad.id)
    await audit(db, tryout, request, "squad.found", squad=squad.id)
    return Say(message=words.founded(tryout.plan, squad, schedule_of(tryout).signup_closes))


@view(ActionKey.SQUAD_LIST)
async def open_squads(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show the open squads of my section, or ask first who I am."""
    check_open(tryout, request)
    me = await me_of(db, tryout, request)
    await check_may_sign_up(db, tryout, request, me)
    if me is None:
        return Open(form=words.who_form(tryout.plan, rules.proposed_name(me, request.name), "list"))
    await check_unattached(db, me)
    return Say(message=await _open_squads(db, tryout, me, 0))


@view(ActionKey.SQUAD_PAGE)
async def page(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Another page of the open squads."""
    check_open(tryout, request)
    me = await me_of(db, tryout, request)
    if me is None:
        raise Refusal(Reason.WHO_ARE_YOU)
    return Replace(message=await _open_squads(db, tryout, me, page))


async def _open_squads(db: Snapshot, tryout: Tryout, me: Student, page: int) -> Message:
    offered = rules.with_free_seats(await squads.of_section(db, tryout.id, me.section), tryout.plan.squads.largest)
    return words.open_squads(tryout.plan, me.section, offered, page)


@act(ActionKey.STUDENT_ENTER)
async def enter(db: Transaction, tryout: Tryout, request: Request, then: Literal["list", "look"] = "list") -> Answer:
    """Take a student's name and section, then go on with what they wanted."""
    check_open(tryout, request)
    me = await enter_me(db, tryout, request, request.field("section"))
    await audit(db, tryout, request, "student.enter", student=me.id)
    if then == "look":
        return await _look(db, tryout, request, me, True)
    await board_changed(db, tryout)
    return Say(message=await _open_squads(db, tryout, me, 0))


@act(ActionKey.SQUAD_JOIN)
async def join(db: Transaction, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Join the squad that was picked from the list."""
    check_open(tryout, request)
    me = await me_of(db, tryout, request)
    if me is None:
        raise Refusal(Reason.WHO_ARE_YOU)
    squad = await squads.squad(db, picked)
    if squad is None or squad.tryout_id != tryout.id:
        raise Refusal(Reason.SQUAD_GONE)
    return Replace(message=await _join(db, tryout, request, me, squad))


@view(ActionKey.SQUAD_CODE)
async def ask_code(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for a join code."""
    check_open(tryout, request)
    me = await me_of(db, tryout, request)
    await check_may_sign_up(db, tryout, request, me)
    return Open(form=words.code_form(rules.proposed_name(me, request.name), typed=not await has_list(db, tryout)))


@act(ActionKey.SQUAD_JOIN_BY_CODE)
async def join_by_code(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Join the squad whose code was typed; its section is the student's."""
    check_open(tryout, request)
    squad = await squads.by_code(db, tryout.id, tidy_code(request.field("code")))
    if squad is None:
        raise Refusal(Reason.NO_SUCH_CODE)
    known = await me_of(db, tryout, request)
    me = await enter_me(db, tryout, request, rules.section_by_code(known, squad))
    return Say(message=await _join(db, tryout, request, me, squad))


async def _join(db: Transaction, tryout: Tryout, request: Request, me: Student, squad: Squad) -> Message:
    await check_i_may_compete(db, tryout, request)
    members = await squads.members(db, squad.id)
    await check_unattached(db, me)
    rules.check_can_join(tryout.plan, me, squad, members)
    await take_seat(db, tryout, request, me, squad, "join")
    return words.joined(tryout.plan, squad, len(members) + 1)


@act(ActionKey.SQUAD_LOOKING)
async def look(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Be seen as looking for a squad, or ask first who I am."""
    check_open(tryout, request)
    me = await me_of(db, tryout, request)
    await check_may_sign_up(db, tryout, request, me)
    if me is None:
        return Open(form=words.who_form(tryout.plan, rules.proposed_name(me, request.name), "look"))
    return await _look(db, tryout, request, me, True)


@act(ActionKey.SQUAD_LOOK_NO_MORE)
async def look_no_more(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Be off the list of those who look."""
    me = await me_of(db, tryout, request)
    if me is None:
        raise Refusal(Reason.WHO_ARE_YOU)
    answer = await _look(db, tryout, request, me, False)
    return Replace(message=answer.message)


async def _look(db: Transaction, tryout: Tryout, request: Request, me: Student, looking: bool) -> Say:
    await check_unattached(db, me)
    await students.set_looking(db, me.id, looking)
    await board_changed(db, tryout)
    await audit(db, tryout, request, "squad.looking", student=me.id, looking=looking)
    return Say(message=words.looking(me.model_copy(update={"looking": looking})))


async def check_unattached(db: Snapshot, student: Student) -> None:
    """A student is in no squad, or a Refusal: `already_in_squad`."""
    rules.check_unattached(await squads.squad(db, student.squad_id) if student.squad_id is not None else None)


async def check_may_sign_up(db: Snapshot, tryout: Tryout, request: Request, me: Student | None) -> None:
    """Nobody goes on who helps to run the try-out; nor, where there is a class list, who has not picked a name from it.

    Raises:
        Refusal: `helper_cannot_compete`, `manager_cannot_compete`, `pick_yourself` (sections).
    """
    await check_i_may_compete(db, tryout, request)
    rules.check_picked(tryout.plan, me, await has_list(db, tryout))


async def has_list(db: Snapshot, tryout: Tryout) -> bool:
    """Whether names and sections come from a class list, so that nobody types them."""
    return await class_lists.class_list(db, tryout.id) is not None


async def enter_me(db: Transaction, tryout: Tryout, request: Request, section: str) -> Student:
    """The person of the request as an unattached student of a section, entered or corrected.

    With a class list, name and section stay as they are there, whatever was typed.

    Raises:
        Refusal: `helper_cannot_compete`, `manager_cannot_compete`, `pick_yourself`, `unknown_section`,
            `already_in_squad`, or what is wrong with the name.
    """
    known = await me_of(db, tryout, request)
    await check_may_sign_up(db, tryout, request, known)
    if known is not None:
        await check_unattached(db, known)
        if await has_list(db, tryout):
            return known
    rules.check_section(tryout.plan, section)
    name = check_person_name(rules.entered_name(request.fields.get("name", ""), known, request.name))
    if known is not None:
        await students.correct_student(db, known.id, name, section)
        return known.model_copy(update={"name": name, "section": section})
    student_id = await students.add_student(db, tryout.id, request.who, name, section)
    return Student(id=student_id, tryout_id=tryout.id, platform_id=request.who, name=name, section=section)
