"""Who asks about squads: the student, the squad that is theirs, and whether they may sign up."""

from bot.actions.core.schedule_cache import schedule_of
from bot.actions.squads.exclusive_roles import check_i_may_compete
from bot.rules.core.refusal import Refusal
from bot.rules.squads import sign_up
from bot.rules.squads.my_squad import why_no_squad
from bot.rules.squads.names import check_person_name
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import class_lists, squads, students
from storage.tables.sql_session import Snapshot, Transaction


def check_open(tryout: Tryout, request: Request) -> None:
    """Squads may still change, or a Refusal."""
    sign_up.check_signup_open(tryout.state, schedule_of(tryout).signup_closes, request.at)


def is_open(tryout: Tryout, request: Request) -> bool:
    """Whether squads may still change."""
    return sign_up.signup_is_open(tryout.state, schedule_of(tryout).signup_closes, request.at)


async def me_of(db: Snapshot, tryout: Tryout, request: Request) -> Student | None:
    """The student who asks, if known."""
    return await students.student_of(db, tryout.id, request.who)


async def my_squad_of(db: Snapshot, tryout: Tryout, request: Request) -> tuple[Student, Squad, list[Student]]:
    """The student who asks, the squad and its members.

    Raises:
        Refusal: as `why_no_squad`; `helper_cannot_compete` or `manager_cannot_compete` for who helps to run the
            try-out.
    """
    me = await me_of(db, tryout, request)
    squad = await squads.squad(db, me.squad_id) if me and me.squad_id else None
    if me is None or squad is None:
        raise await _no_squad(db, tryout, request, me)
    return me, squad, await squads.members(db, squad.id)


async def _no_squad(db: Snapshot, tryout: Tryout, request: Request, me: Student | None) -> Refusal:
    """What somebody without a squad reads."""
    await check_i_may_compete(db, tryout, request)
    taken_out = await squads.taken_out_of(db, me) if me is not None else None
    return why_no_squad(me, taken_out, tryout.state, is_open(tryout, request))


async def check_unattached(db: Snapshot, student: Student) -> None:
    """A student is in no squad, or a Refusal: `already_in_squad`."""
    sign_up.check_unattached(await squads.squad(db, student.squad_id) if student.squad_id is not None else None)


async def check_may_sign_up(db: Snapshot, tryout: Tryout, request: Request, me: Student | None) -> None:
    """Nobody goes on who helps to run the try-out; nor, where there is a class list, who has not picked a name from it.

    Raises:
        Refusal: `helper_cannot_compete`, `manager_cannot_compete`, `pick_yourself` (sections).
    """
    await check_i_may_compete(db, tryout, request)
    sign_up.check_picked(tryout.plan, me, await has_list(db, tryout))


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
    sign_up.check_section(tryout.plan, section)
    name = check_person_name(request.fields.get("name") or (known.name if known else request.name))
    if known is not None:
        await students.correct_student(db, known.id, name, section)
        return known.model_copy(update={"name": name, "section": section})
    student_id = await students.add_student(db, tryout.id, request.who, name, section)
    return Student(id=student_id, tryout_id=tryout.id, platform_id=request.who, name=name, section=section)
