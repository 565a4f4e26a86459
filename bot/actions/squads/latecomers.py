"""Who came after sign-up had closed tells the coach, and has no squad yet."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.squads.asking_student import is_open, me_of
from bot.actions.squads.sign_up import check_may_sign_up, check_unattached, enter_me
from bot.rules.squads.latecomers import check_late, coach_is_told
from bot.rules.squads.sign_up import proposed_name
from bot.words.core.action_keys import ActionKey
from bot.words.squads import latecomers as words
from storage.records.message import Answer, Open, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import outbox, students
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.STUDENT_LATE)
async def late(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form of who came late."""
    me = await me_of(db, tryout, request)
    await _check_late(db, tryout, request)
    await check_may_sign_up(db, tryout, request, me)
    return Open(form=words.late_form(tryout.plan, proposed_name(me, request.name)))


@act(ActionKey.STUDENT_CAME_LATE)
async def came_late(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Tell the coach, once, of a student who came after sign-up had closed."""
    await _check_late(db, tryout, request)
    me = await enter_me(db, tryout, request, request.field("section"))
    if coach_is_told(me):
        await students.note_late(db, me.id, request.at)
        await outbox.enqueue(db, tryout.id, "office", words.late_student(me), request.at)
        await audit(db, tryout, request, "student.late", student=me.id)
    return Say(message=words.told_coach(me))


async def _check_late(db: Snapshot, tryout: Tryout, request: Request) -> None:
    """Sign-up is over, the result is not there yet, and the person has no squad; or a Refusal."""
    check_late(tryout.state, is_open(tryout, request))
    me = await me_of(db, tryout, request)
    if me is not None:
        await check_unattached(db, me)
