"""The coach places a student in a squad, or in another one, also where the plan gives no seat."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.squads.give_up_seat import give_up_seat
from bot.actions.squads.keep_correction import keep_move
from bot.actions.squads.members import by_squad, take_seat
from bot.actions.squads.squads_admin import squad_of
from bot.actions.squads.students_admin import student_page, student_with_squad
from bot.rules.core.refusal import Refusal
from bot.rules.core.typed_reason import reason_of
from bot.rules.squads import sign_up
from bot.rules.squads.place_student import check_elsewhere, in_order
from bot.words.core.action_keys import ActionKey
from bot.words.squads import place_student as words
from storage.records.message import Answer, Open, Replace
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import corrections, decisions, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PEOPLE_PLACE, "coach")
async def place(db: Snapshot, tryout: Tryout, request: Request, student_id: int, page: int) -> Answer:
    """Pick a squad for a student."""
    one, _ = await student_with_squad(db, tryout, student_id)
    sizes = [(squad, len(members)) for squad, members in await by_squad(db, tryout) if squad is not None]
    has_part = one.squad_id is not None and bool(await corrections.parts(db, one.id))
    return Replace(message=words.pick_squad(one, in_order(one, sizes, tryout.plan), tryout.plan, page, has_part))


@act(ActionKey.PEOPLE_PLACED, "coach")
async def placed(db: Transaction, tryout: Tryout, request: Request, student_id: int, *, picked: int) -> Answer:
    """Put a student into a squad; where the plan does not give the seat, ask for a reason."""
    one, old = await student_with_squad(db, tryout, student_id)
    squad = await squad_of(db, tryout, picked)
    check_elsewhere(one, squad)
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
    check_elsewhere(one, squad)
    return Open(form=words.except_form(one, squad))


@act(ActionKey.PEOPLE_EXCEPTED, "coach")
async def place_anyway(db: Transaction, tryout: Tryout, request: Request, student_id: int, squad_id: int) -> Answer:
    """Put a student into a squad for a reason, whatever its size and section."""
    one, old = await student_with_squad(db, tryout, student_id)
    squad = await squad_of(db, tryout, squad_id)
    check_elsewhere(one, squad)
    reason = reason_of(request)
    before = await corrections.seat_of(db, one)
    await _seat(db, tryout, request, one, old, squad)
    decision = await decisions.decide(db, tryout.id, "seat", squad.id, one.id, reason, request.at)
    await audit(db, tryout, request, "decision.seat", decision=decision, squad=squad.id, student=one.id)
    await keep_move(db, request, one, before, decision)
    return Replace(message=await student_page(db, tryout, one.id))


async def _seat(
    db: Transaction, tryout: Tryout, request: Request, one: Student, old: Squad | None, squad: Squad
) -> None:
    if old is not None:
        await give_up_seat(db, tryout, request, one, old)
    await take_seat(db, tryout, request, one, squad, "place")
