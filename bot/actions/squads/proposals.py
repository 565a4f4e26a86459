"""The coach has legal squads proposed for students without one, changes and accepts them; new ones are founded."""

from collections import defaultdict
from functools import partial

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, view
from bot.actions.squads.exclusive_roles import may_compete
from bot.actions.squads.founding import add_squad
from bot.actions.squads.members import by_squad, take_seat
from bot.actions.squads.squads_changed import board_changed, tell_squad
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads import proposal_search, sign_up
from bot.rules.squads import proposals as rules
from bot.rules.squads.captain import first_captain
from bot.rules.squads.proposal_search import Open, Split, Wish
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import shown_stamp
from bot.words.squads import proposals as words
from bot.words.squads import squad_room
from storage.records.message import Answer, Message, Replace, Say
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.records.wishes_and_proposals import Proposal, ProposedSeat
from storage.tables import outbox, proposals, squads, students
from storage.tables.sql_session import Snapshot, Transaction
from storage.tables.wishes import wishes as stored_wishes

Found = dict[str, Split]
"""What was found, by section."""


@view(ClassKey.PROPOSAL, "coach")
async def show(db: Snapshot, tryout: Tryout, request: Request, page: int = 0) -> Answer:
    """Show the proposal, or say how many students it would be for."""
    return Replace(message=await _page(db, tryout, page=page))


async def _page(db: Snapshot, tryout: Tryout, said: str = "", page: int = 0) -> Message:
    made = await proposals.proposal(db, tryout.id)
    rows = await by_squad(db, tryout)
    alone = [one for squad, members in rows if squad is None for one in members]
    if made is None:
        return words.none_yet(tryout.plan, alone)
    shown = words.Shown(made, rules.in_order(await proposals.seats(db, tryout.id)), await _stamp(db, made))
    return words.proposal(tryout.plan, shown, rows, await stored_wishes(db, tryout.id), said, page)


async def _stamp(db: Snapshot, made: Proposal) -> str:
    """What a proposal's buttons carry of it: the places, and whether students may answer; not what they answered."""
    places = await proposals.places(db, made.tryout_id)
    return shown_stamp(made.made_at, made.accepted_at, places)


async def _search(db: Snapshot, tryout: Tryout, request: Request) -> Work[Found]:
    """Look for squads beside the event loop, section by section."""
    rows = await by_squad(db, tryout)
    wishes = [Wish(one.student_id, one.other_id, one.together) for one in await stored_wishes(db, tryout.id)]
    alone: dict[str, list[int]] = defaultdict(list)
    room: dict[str, list[Open]] = defaultdict(list)
    for squad, members in rows:
        if squad is not None:
            room[squad.section].append(Open(squad.id, tuple(one.id for one in members)))
        else:
            for one in members:
                alone[one.section].append(one.id)
    sizes = tryout.plan.squads
    return partial(
        lambda: {
            section: proposal_search.propose(group, room[section], wishes, sizes.smallest, sizes.largest)
            for section, group in sorted(alone.items())
        }
    )


@act(ClassKey.PROPOSE, "coach", before=_search)
async def look(db: Transaction, tryout: Tryout, request: Request, *, prepared: Found) -> Answer:
    """Keep what was found as a draft that only the coach sees."""
    if not prepared:
        raise Refusal(Reason.NOBODY_ALONE)
    made, number = [], 0
    for split in prepared.values():
        made += [
            ProposedSeat(student_id=one, tryout_id=tryout.id, squad_id=squad)
            for squad, group in split.joins.items()
            for one in group
        ]
        for group in split.founds:
            number += 1
            made += [ProposedSeat(student_id=one, tryout_id=tryout.id, new_squad=number) for one in group]
        made += [ProposedSeat(student_id=one, tryout_id=tryout.id) for one in split.alone]
    await proposals.draft(db, tryout.id, made, request.at)
    await audit(db, tryout, request, "proposal.draft", students=len(made))
    return Say(message=await _page(db, tryout, words.found(list(prepared.values()))))


@view(ClassKey.PROPOSAL_STUDENT, "coach")
async def pick_place(
    db: Snapshot, tryout: Tryout, request: Request, student_id: int = 0, page: int = 0, *, picked: int | None = None
) -> Answer:
    """Show where else a student of the proposal could go."""
    one, seat = await _seat(db, tryout, picked or student_id)
    rows = [(squad, members) for squad, members in await by_squad(db, tryout) if squad is not None]
    seats = await proposals.seats(db, tryout.id)
    everybody = {student.id: student for student in await students.students(db, tryout.id)}
    groups: dict[int, list[Student]] = defaultdict(list)
    for other in seats:
        if other.new_squad is not None and everybody[other.student_id].section == one.section:
            groups[other.new_squad].append(everybody[other.student_id])
    fresh = rules.next_new_squad(seats)
    return Replace(message=words.places(tryout.plan, one, seat, rows, groups, fresh, page))


@act(ClassKey.PROPOSAL_CHANGED, "coach")
async def change(db: Transaction, tryout: Tryout, request: Request, student_id: int, *, picked: str) -> Answer:
    """Propose another squad for a student."""
    one, _ = await _seat(db, tryout, student_id)
    kind, _, number = picked.partition("-")
    if kind not in ("squad", "new", "none") or (kind != "none" and not number.isdecimal()) or len(number) > 9:
        raise Refusal(Reason.OUT_OF_DATE)
    squad_id = int(number) if kind == "squad" else None
    if squad_id is not None:
        rules.check_may_be_given(await squads.squad(db, squad_id), one)
    new = int(number) if kind == "new" else None
    if new is not None and not 1 <= new <= rules.MOST_NEW:
        raise Refusal(Reason.OUT_OF_DATE)
    await proposals.change(db, one.id, squad_id, new)
    await audit(db, tryout, request, "proposal.change", student=one.id)
    return Replace(message=await _page(db, tryout))


async def _seat(db: Snapshot, tryout: Tryout, student_id: int) -> tuple[Student, ProposedSeat]:
    for seat in await proposals.seats(db, tryout.id):
        one = await students.student(db, seat.student_id) if seat.student_id == student_id else None
        if one is not None:
            return one, seat
    raise Refusal(Reason.PROPOSAL_GONE)


@act(ClassKey.PROPOSAL_ACCEPTED, "coach")
async def accept(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Let students answer; those without an account are taken for willing, as the coach acts for them."""
    made = rules.check_draft(await proposals.proposal(db, tryout.id))
    if stamp != await _stamp(db, made):
        return Replace(message=await _page(db, tryout, words.CHANGED))
    await _check_legal(db, tryout)
    await proposals.accept(db, tryout.id, request.at)
    await audit(db, tryout, request, "proposal.accept")
    asked = 0
    for seat in await proposals.seats(db, tryout.id):
        one = await students.student(db, seat.student_id)
        assert one is not None
        if not rules.gives_place(seat):
            continue
        if rules.willing_unasked(one):
            await proposals.answer(db, one.id, "yes")
            await seat_proposed(db, tryout, request, one, seat)
        else:
            asked += 1
    await found_ready(db, tryout, request)
    if asked:
        await outbox.enqueue(db, tryout.id, "signup", words.look_at_it(), request.at)
    return Replace(message=await _page(db, tryout, words.accepted(asked)))


async def _check_legal(db: Snapshot, tryout: Tryout) -> None:
    """Every squad of the proposal would be one that the plan allows, or a Refusal that names the first that is not."""
    sizes = tryout.plan.squads
    there = {squad.id: (squad, len(members)) for squad, members in await by_squad(db, tryout) if squad is not None}
    into: dict[int, int] = defaultdict(int)
    new: dict[int, list[Student]] = defaultdict(list)
    for seat in await proposals.seats(db, tryout.id):
        one = await students.student(db, seat.student_id)
        assert one is not None
        if seat.squad_id is not None:
            into[seat.squad_id] += 1
        elif seat.new_squad is not None:
            new[seat.new_squad].append(one)
    for squad_id, number in into.items():
        if squad_id not in there:
            raise Refusal(Reason.PROPOSAL_OLD)
        squad, members = there[squad_id]
        rules.check_joined(sizes, squad, members + number)
    for number, group in new.items():
        rules.check_new(sizes, words.new_squad_name(number), group)


@act(ClassKey.PROPOSAL_ALL, "coach")
async def wait_no_longer(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Take all who have not answered for willing; whose place is gone stays without one, and is named."""
    made = rules.check_accepted(await proposals.proposal(db, tryout.id))
    if stamp != await _stamp(db, made):
        return Replace(message=await _page(db, tryout, words.CHANGED))
    left = []
    for seat in rules.not_answered(await proposals.seats(db, tryout.id)):
        one = await students.student(db, seat.student_id)
        if one is not None:
            await proposals.answer(db, one.id, "yes")
            try:
                await seat_proposed(db, tryout, request, one, seat)
            except Refusal:
                await proposals.change(db, one.id, None, None)
                left.append(one)
    await found_ready(db, tryout, request)
    await audit(db, tryout, request, "proposal.all")
    return Replace(message=await _page(db, tryout, words.places_gone(left)))


@act(ClassKey.PROPOSAL_DROPPED, "coach")
async def drop(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Drop the proposal; who has a squad by it keeps the seat."""
    made = await proposals.proposal(db, tryout.id)
    if made is not None and stamp != await _stamp(db, made):
        return Replace(message=await _page(db, tryout, words.CHANGED))
    await proposals.drop(db, tryout.id)
    await audit(db, tryout, request, "proposal.drop")
    return Replace(message=await _page(db, tryout))


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
        if not rules.all_have_answered(seats):
            continue
        willing = rules.willing(seats)
        found = [one for seat in willing if (one := await students.student(db, seat.student_id)) is not None]
        founders = [one for one in found if await may_compete(db, tryout, one.platform_id)]
        if not rules.enough_to_found(tryout.plan.squads, founders):
            if founders:
                await outbox.enqueue(db, tryout.id, "office", words.too_few(number, founders), request.at)
            for one in found:
                await proposals.change(db, one.id, None, None)
            continue
        await _found(db, tryout, request, founders)


async def _found(db: Transaction, tryout: Tryout, request: Request, founders: list[Student]) -> None:
    """Found a squad of willing students."""
    names = await squads.names(db, tryout.id)
    name = rules.first_free_name(words.new_squad_name, names)
    squad = await add_squad(db, tryout, request, name, founders[0].section)
    for one in founders:
        await students.seat(db, one, squad.id, request.at)
        await audit(db, tryout, request, "squad.join", squad=squad.id, student=one.id)
    await squads.set_captain(db, squad.id, first_captain(founders).id)
    await tell_squad(db, tryout, squad, squad_room.welcome_to_room(tryout.plan, squad), request)
    await board_changed(db, tryout, squad.id)
    await audit(db, tryout, request, "squad.found", squad=squad.id)
