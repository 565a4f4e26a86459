"""A student without a squad agrees to the one that is proposed, or declines."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act
from bot.actions.squads.asking_student import me_of
from bot.actions.squads.exclusive_roles import check_i_may_compete
from bot.actions.squads.proposals import found_ready, seat_proposed
from bot.rules.core.refusal import Refusal
from bot.rules.squads import proposal_answers as rules
from bot.words.core.class_action_keys import ClassKey
from bot.words.squads import proposal_answers as words
from storage.records.message import Answer, Message, Replace
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.records.wishes_and_proposals import ProposedSeat
from storage.tables import outbox, proposals, squads, students
from storage.tables.sql_session import Snapshot, Transaction


async def offered(db: Snapshot, tryout: Tryout, one: Student) -> Message | None:
    """What is proposed to a student without a squad; None where nothing is."""
    seat = await proposals.seat_for(db, one.id)
    if seat is None or not rules.is_offered(one, seat):
        return None
    return words.offer(seat, *await _proposed(db, tryout, seat))


async def _proposed(db: Snapshot, tryout: Tryout, seat: ProposedSeat) -> tuple[Squad | None, list[Student]]:
    """The squad of a place that is proposed, None for one that is yet to be founded, and who would be in it too."""
    squad = await squads.squad(db, seat.squad_id) if seat.squad_id is not None else None
    return squad, await _companions(db, tryout, seat)


async def _companions(db: Snapshot, tryout: Tryout, seat: ProposedSeat) -> list[Student]:
    """Who would be in that squad too."""
    if seat.squad_id is not None:
        return await squads.members(db, seat.squad_id)
    others = rules.founds_too(seat, await proposals.seats(db, tryout.id))
    found = [await students.student(db, other.student_id) for other in others]
    return [one for one in found if one is not None]


@act(ClassKey.PROPOSAL_YES)
async def agree(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Agree to the squad that is proposed to me; one that has changed since it was shown is shown first."""
    me, seat = await _my_seat(db, tryout, request)
    there, others = await _proposed(db, tryout, seat)
    if stamp != words.stamp_of(seat, others):
        return Replace(message=words.offer(seat, there, others, changed=True))
    await check_i_may_compete(db, tryout, request)
    await proposals.answer(db, me.id, "yes")
    try:
        squad = await seat_proposed(db, tryout, request, me, seat)
    except Refusal:
        # Somebody else took it, or the squad is gone: the coach finds another one.
        await proposals.change(db, me.id, None, None)
        await outbox.enqueue(db, tryout.id, "office", words.place_gone_to_coach(me), request.at)
        return Replace(message=words.place_gone())
    await audit(db, tryout, request, "proposal.yes", student=me.id)
    await found_ready(db, tryout, request)
    now = await students.student(db, me.id)
    assert now is not None
    if squad is None and now.squad_id is not None:
        squad = await squads.squad(db, now.squad_id)
    return Replace(message=words.agreed(squad))


@act(ClassKey.PROPOSAL_NO)
async def decline(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Decline; the coach is told, and finds something else. Nobody declines what they have not been shown."""
    me, seat = await _my_seat(db, tryout, request)
    there, others = await _proposed(db, tryout, seat)
    if stamp != words.stamp_of(seat, others):
        return Replace(message=words.offer(seat, there, others, changed=True))
    await proposals.answer(db, me.id, "no")
    await outbox.enqueue(db, tryout.id, "office", words.declined_to_coach(me), request.at)
    await audit(db, tryout, request, "proposal.no", student=me.id)
    await found_ready(db, tryout, request)
    return Replace(message=words.declined())


async def _my_seat(db: Snapshot, tryout: Tryout, request: Request) -> tuple[Student, ProposedSeat]:
    me = await me_of(db, tryout, request)
    seat = await proposals.seat_for(db, me.id) if me is not None else None
    return rules.check_may_answer(tryout.state, me, seat)
