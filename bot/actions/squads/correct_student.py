"""The coach corrects a student's name or section."""

from bot.actions.core.audit import audit
from bot.actions.core.changed_meanwhile import Noted, overtaken
from bot.actions.core.dispatch import act, view
from bot.actions.squads.keep_correction import keep_correction
from bot.actions.squads.squads_changed import board_changed
from bot.actions.squads.students_admin import student_page, student_with_squad
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.typed_reason import reason_of
from bot.rules.squads import sign_up
from bot.rules.squads import students_admin as rules
from bot.rules.squads.names import check_person_name, name_keys
from bot.words.core.changed_meanwhile import stamped
from bot.words.core.class_action_keys import ClassKey
from bot.words.squads import correct_student as words
from storage.records.message import Answer, Open, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import class_lists, decisions, students
from storage.tables.sql_session import Conflict, Snapshot, Transaction


@view(ClassKey.CORRECT_ASK, "coach")
async def ask_details(db: Snapshot, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Open the form for another name or section."""
    one, squad = await student_with_squad(db, tryout, student_id)
    return Open(form=stamped(words.details_form(tryout.plan, one, squad)))


@act(ClassKey.CORRECT_DETAILS, "coach")
async def correct_details(
    db: Transaction, tryout: Tryout, request: Request, student_id: int, stamp: str = ""
) -> Answer:
    """Correct a student's name or section; a seat in a squad of another section takes a reason."""
    one, squad = await student_with_squad(db, tryout, student_id)
    now = words.details_form(tryout.plan, one, squad)
    noted = Noted(("correction.details", "correction.undone"), {"student": one.id})
    if (told := await overtaken(db, tryout, request, now, stamp, (ClassKey.CORRECT_ASK, one.id), noted)) is not None:
        return told
    name, section = check_person_name(request.field("name")), request.field("section")
    sign_up.check_section(tryout.plan, section)
    rules.check_corrects(one, name, section)
    decision = None
    if squad is not None and rules.correction_needs_reason(one, squad, section):
        try:
            reason = reason_of(request)
        except Refusal:
            raise Refusal(Reason.SECTION_NEEDS_REASON, squad=squad.name, section=squad.section) from None
        decision = await decisions.decide(db, tryout.id, "seat", squad.id, one.id, reason, request.at)
    await students.correct_student(db, one.id, name, section)
    await list_follows(db, one.id, name, section)
    before, after = ({"name": value[0], "section": value[1]} for value in ((one.name, one.section), (name, section)))
    await keep_correction(db, request, "details", one, before, after, decision)
    await board_changed(db, tryout, *([squad.id] if squad else []))
    await audit(db, tryout, request, "correction.details", student=one.id)
    return Replace(message=await student_page(db, tryout, one.id))


async def list_follows(db: Transaction, student_id: int, name: str, section: str) -> None:
    """The entry of the class list is renamed with the student."""
    try:
        await class_lists.rename_entry(db, student_id, name, name_keys(name).folded, section)
    except Conflict:
        raise Refusal(Reason.LIST_HAS_NAME, name=name, section=section) from None
