"""Who asks about squads: the student, the squad that is theirs, and whether squads may still change."""

from bot.actions.core.schedule_cache import schedule_of
from bot.actions.squads.exclusive_roles import check_i_may_compete
from bot.rules.core.refusal import Refusal
from bot.rules.squads import sign_up
from bot.rules.squads.my_squad import why_no_squad
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import squads, students
from storage.tables.sql_session import Snapshot


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
