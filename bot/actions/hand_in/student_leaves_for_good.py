"""A student leaves for good: the coach says why, and whether their part of the hand-in stays with the squad."""

from typing import Literal

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.hand_in.member_parts import changed
from bot.actions.squads.give_up_seat import give_up_seat
from bot.actions.squads.keep_correction import keep_move
from bot.actions.squads.students_admin import student_in_squad, student_page
from bot.rules.core.typed_reason import reason_of
from bot.words.core.class_action_keys import ClassKey
from bot.words.hand_in import student_leaves_for_good as words
from storage.records.message import Answer, Open, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import corrections, decisions, member_parts, outbox
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.DROPOUT, "coach")
async def ask_leaver(db: Snapshot, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Open the form for the reason, and for what becomes of the parts."""
    one, _ = await student_in_squad(db, tryout, student_id)
    return Open(form=words.dropout_form(one, bool(await corrections.parts(db, one.id))))


@act(ClassKey.DROPPED_OUT, "coach")
async def drop_out(db: Transaction, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Take the student out; the parts stay with the squad or go along. Only the office reads why."""
    one, squad = await student_in_squad(db, tryout, student_id)
    reason = reason_of(request)
    before = await corrections.seat_of(db, one)
    stays = request.fields.get("parts") == "stay"
    decision = None
    if stays:
        await member_parts.leave_behind(db, one.id, squad.id)
    if before["parts"]:
        # What is decided here is listed with the result; why somebody leaves is not for everyone.
        decision = await decisions.decide(db, tryout.id, "part", squad.id, one.id, "", request.at)
    await give_up_seat(db, tryout, request, one, squad)
    await keep_move(db, request, one, before, decision)
    await changed(db, tryout, squad.id)
    await outbox.enqueue(db, tryout.id, "office", words.to_office(one, squad, reason), request.at)
    what: Literal["stays", "goes"] = "stays" if stays else "goes"
    await audit(db, tryout, request, "student.dropout", student=one.id, squad=squad.id, part=what)
    return Replace(message=await student_page(db, tryout, one.id))
