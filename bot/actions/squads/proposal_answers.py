"""A student without a squad agrees to the one that is proposed; a new one is founded once all have answered."""

from collections import defaultdict

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act
from bot.actions.squads.asking_student import me_of
from bot.actions.squads.exclusive_roles import check_i_may_compete, may_compete
from bot.actions.squads.founding import add_squad
from bot.actions.squads.seats import take_seat
from bot.actions.squads.squads_changed import board_changed, tell_squad
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads import sign_up
from bot.rules.squads.latecomers import MAY_COME_LATE
from bot.rules.squads.names import alike
from bot.words.core.class_action_keys import ClassKey
from bot.words.squads import proposal_answers as words
from bot.words.squads import squad_room
from storage.records.message import Answer, Message, Replace
from storage.records.people import Squad, Student
from storage.records.proposals import ProposedSeat
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import outbox, proposals, squads, students
from storage.tables.sql_session import Snapshot, Transaction


async def offered(db: Snapshot, tryout: Tryout, one: Student) -> Message | None:
    """What is proposed to a student without a squad; None where nothing is."""
    seat = await proposals.seat_for(db, one.id)
    if seat is None or one.squad_id is not None:
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
    found = []
    for other in await proposals.seats(db, tryout.id):
        one = await students.student(db, other.student_id)
        if one and other.new_squad == seat.new_squad and one.id != seat.student_id and other.answer != "no":
            found.append(one)
    return found


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
    seat = await proposals.seat_for(db, me.id) if me and me.squad_id is None else None
    if me is None or seat is None or tryout.state not in MAY_COME_LATE:
        raise Refusal(Reason.NOTHING_PROPOSED)
    return me, seat


async def seat_proposed(
    db: Transaction, tryout: Tryout, request: Request, one: Student, seat: ProposedSeat
) -> Squad | None:
    """Seat a willing student in the squad that is there already; None where it is yet to be founded.

    Raises:
        Refusal: `squad_gone`, `squad_full`, `other_section`, `helper_cannot_compete`.
    """
    if seat.squad_id is None:
        return None
    squad = await squads.squad(db, seat.squad_id)
    if squad is None:
        raise Refusal(Reason.SQUAD_GONE)
    sign_up.check_can_join(tryout.plan, one, squad, await squads.members(db, squad.id))
    await take_seat(db, tryout, request, one, squad, "join")
    return squad


async def found_ready(db: Transaction, tryout: Tryout, request: Request) -> None:
    """Found each new squad in which all have answered and enough are willing; tell the coach where too few are."""
    groups: dict[int, list[ProposedSeat]] = defaultdict(list)
    for seat in await proposals.seats(db, tryout.id):
        if seat.new_squad is not None:
            groups[seat.new_squad].append(seat)
    for number, seats in groups.items():
        willing = [seat for seat in seats if seat.answer == "yes"]
        if any(seat.answer is None for seat in seats):
            continue
        found = [one for seat in willing if (one := await students.student(db, seat.student_id)) is not None]
        founders = [one for one in found if await may_compete(db, tryout, one.platform_id)]
        if len(founders) < tryout.plan.squads.smallest:
            if founders:
                await outbox.enqueue(db, tryout.id, "office", words.too_few(number, founders), request.at)
            for one in found:
                await proposals.change(db, one.id, None, None)
            continue
        await _found(db, tryout, request, founders)


async def _found(db: Transaction, tryout: Tryout, request: Request, founders: list[Student]) -> None:
    """Found a squad of willing students; the first who has an account leads it."""
    names = await squads.names(db, tryout.id)
    free = (f"New squad {number}" for number in range(1, len(names) + 2))
    name = next(one for one in free if not any(alike(one, other) for other in names))
    squad = await add_squad(db, tryout, request, name, founders[0].section)
    for one in founders:
        await students.seat(db, one, squad.id, request.at)
        await audit(db, tryout, request, "squad.join", squad=squad.id, student=one.id)
    leads = next((one for one in founders if one.platform_id is not None), founders[0])
    await squads.set_captain(db, squad.id, leads.id)
    await tell_squad(db, tryout, squad, squad_room.welcome_to_room(tryout.plan, squad), request)
    await board_changed(db, tryout, squad.id)
    await audit(db, tryout, request, "squad.found", squad=squad.id)
