"""Where one student stands twice, the coach joins the two records to one."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.squads.exclusive_roles import check_may_compete
from bot.actions.squads.keep_correction import keep_correction
from bot.actions.squads.members import by_squad
from bot.actions.squads.squads_changed import every_squad_changed
from bot.actions.squads.students_admin import student_page, student_with_squad
from bot.rules.squads import merge_student_records as rules
from bot.words.core.class_action_keys import ClassKey
from bot.words.squads import merge_student_records as words
from storage.records.message import Answer, Replace
from storage.records.people import Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import corrections, merge_student_records, squad_room_members
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.JOIN_PICK, "coach")
async def pick_other(db: Snapshot, tryout: Tryout, request: Request, page: int, student_id: int) -> Answer:
    """Pick the other record of a student; those of the same section come first."""
    one, _ = await student_with_squad(db, tryout, student_id)
    rows = [(other, squad) for squad, members in await by_squad(db, tryout) for other in members if other.id != one.id]
    return Replace(message=words.pick_other(one, rules.in_order(one, rows), page))


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
        await squad_room_members.want_in_room(db, goes.squad_id, stays.platform_id)
    if stays.squad_id is not None and stays.platform_id is None and goes.platform_id is not None:
        await squad_room_members.want_in_room(db, stays.squad_id, goes.platform_id)
    kept = await merge_student_records.join_students(db, stays, goes)
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
    rules.check_same_student(stays, goes, await merge_student_records.clash(db, stays.id, goes.id))
    return stays, goes
