"""A team picked from several squads: places offered to named students, each of whom answers alone; and alternates."""

from typing import Literal

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.results.finality import doubt_of
from bot.actions.squads.asking_student import me_of
from bot.actions.squads.seats import by_squad
from bot.actions.squads.squads_changed import tell_squad
from bot.actions.squads.students_admin import student_with_squad
from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.core.refusal import Refusal
from bot.rules.results.mixed_team import check_may_settle, holds_a_place
from bot.words.core.class_action_keys import ClassKey
from bot.words.results import mixed_team as words
from storage.records.message import Answer, Message, Replace, Say
from storage.records.people import Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import mixed_team, outbox
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.TEAM, "coach")
async def show(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Show who is offered a place, and what they said."""
    return Replace(message=await _page(db, tryout, request, page))


async def _page(db: Snapshot, tryout: Tryout, request: Request, page: int = 0, changed: bool = False) -> Message:
    if tryout.announced_at is None:
        raise Refusal(ClassReason.TEAM_EARLY)
    rows = [(one, squad) for squad, members in await by_squad(db, tryout) if squad for one in members]
    return words.page(
        await mixed_team.offers(db, tryout.id), rows, page, await doubt_of(db, tryout, request.at), changed
    )


@act(ClassKey.TEAM_OFFERED, "coach")
async def offer(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    what: Literal["open", "alternate"],
    *,
    picked: tuple[int, ...],
) -> Answer:
    """Offer places to students, or keep them as alternates; a squad's room reads whom a place is offered to."""
    await _page(db, tryout, request)
    for student_id in picked:
        one, squad = await student_with_squad(db, tryout, student_id)
        known = await mixed_team.offer_of(db, one.id)
        if squad is None or holds_a_place(known):
            continue
        await mixed_team.offer(db, tryout.id, one.id, what, request.at)
        await audit(db, tryout, request, f"team.{what}", student=one.id)
        if what == "open":
            await tell_squad(db, tryout, squad, words.offered_in_room(one), request)
    return Replace(message=await _page(db, tryout, request))


@act(ClassKey.TEAM_SETTLED, "coach")
async def settle(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    what: Literal["accepted", "declined", "back"],
    stamp: str = "",
    *,
    picked: int,
) -> Answer:
    """Answer for a student without an account, or take an offer back, if it stands as it was read."""
    one, squad = await student_with_squad(db, tryout, picked)
    if stamp != words.stamp_of(await mixed_team.offers(db, tryout.id)):
        return Replace(message=await _page(db, tryout, request, changed=True))
    known = check_may_settle(await mixed_team.offer_of(db, one.id), what)
    if what == "back":
        await mixed_team.take_back(db, one.id)
        if squad is not None and holds_a_place(known):
            await tell_squad(db, tryout, squad, words.ended_in_room(one), request)
    else:
        await mixed_team.answer(db, one.id, what, request.at)
    await audit(db, tryout, request, f"team.{what}", student=one.id)
    return Replace(message=await _page(db, tryout, request))


@view(ClassKey.TEAM_MINE)
async def mine(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show the place that is offered to me, or what I have said."""
    me = await me_of(db, tryout, request)
    known = await mixed_team.offer_of(db, me.id) if me is not None else None
    if known is not None and known.state == "accepted":
        return Say(message=words.thanks("accepted", await doubt_of(db, tryout, request.at)))
    if known is not None and known.state == "declined":
        return Say(message=words.said_no())
    me = await _me_with_offer(db, tryout, request)
    return Say(message=words.to_student(me, await doubt_of(db, tryout, request.at)))


@act(ClassKey.TEAM_YES)
async def accept(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Accept the place."""
    return await _answered(db, tryout, request, "accepted")


@act(ClassKey.TEAM_NO)
async def decline(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Decline the place; the coach is told, and may ask an alternate."""
    return await _answered(db, tryout, request, "declined")


async def _answered(db: Transaction, tryout: Tryout, request: Request, what: Literal["accepted", "declined"]) -> Answer:
    me = await _me_with_offer(db, tryout, request)
    await mixed_team.answer(db, me.id, what, request.at)
    await outbox.enqueue(db, tryout.id, "office", words.to_office(me, what), request.at)
    await audit(db, tryout, request, f"team.{what}", student=me.id)
    return Replace(message=words.thanks(what, await doubt_of(db, tryout, request.at)))


async def _me_with_offer(db: Snapshot, tryout: Tryout, request: Request) -> Student:
    """The student who asks, with a place that waits for an answer; or a Refusal: `team_nothing`."""
    me = await me_of(db, tryout, request)
    known = await mixed_team.offer_of(db, me.id) if me is not None else None
    if me is None or known is None or known.state != "open" or tryout.state != "announced":
        raise Refusal(ClassReason.TEAM_NOTHING)
    return me
