"""A team picked from several squads: places offered to named students, each of whom answers alone; and alternates."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Literal

from bot.actions.core.audit import append_entry, audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.scheduled_jobs import job
from bot.actions.results.finality import doubt_of
from bot.actions.squads.asking_student import me_of
from bot.actions.squads.members import by_squad
from bot.actions.squads.squads_changed import tell_squad
from bot.actions.squads.students_admin import student_with_squad
from bot.rules.calendar.evening_of_school_day import reminder_before, school_day_ends
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.mixed_team import (
    Settled,
    check_announced,
    check_may_answer,
    check_may_settle,
    holds_a_place,
    owing,
    room_is_told,
    room_reads_offer,
)
from bot.rules.results.place_offers import check_may_lapse, read_days
from bot.words.core.class_action_keys import ClassKey
from bot.words.results import mixed_team as words
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.results import MemberOffer
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import mixed_team, outbox, scheduled_jobs, students
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.TEAM, "coach")
async def show(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Show who is offered a place, and what they said."""
    return Replace(message=await _page(db, tryout, request, page))


async def _page(db: Snapshot, tryout: Tryout, request: Request, page: int = 0, changed: bool = False) -> Message:
    check_announced(tryout.announced_at)
    rows = [(one, squad) for squad, members in await by_squad(db, tryout) if squad for one in members]
    offers, why = await mixed_team.offers(db, tryout.id), await doubt_of(db, tryout, request.at)
    return words.page(offers, rows, page, why, request.at, changed)


@view(ClassKey.TEAM_ASK, "coach")
async def ask(db: Snapshot, tryout: Tryout, request: Request, *, picked: tuple[int, ...]) -> Answer:
    """Open the form of offers to students."""
    check_announced(tryout.announced_at)
    people = [one for one, _ in await _free(db, tryout, picked)]
    if not people:
        return Replace(message=await _page(db, tryout, request, changed=True))
    return Open(form=words.offer_form(people))


@act(ClassKey.TEAM_OFFERED, "coach")
async def offer(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    what: Literal["open", "alternate"],
    *asked: int,
    picked: tuple[int, ...] = (),
) -> Answer:
    """Offer places to students, or keep them as alternates; a squad's room reads whom a place is offered to."""
    check_announced(tryout.announced_at)
    until = school_day_ends(tryout.plan, request.at, read_days(request.fields.get("days", "")))
    people = await _free(db, tryout, (*asked, *picked))
    for one, squad in people:
        await mixed_team.offer(db, tryout.id, one.id, request.at, until if what == "open" else None)
        await audit(db, tryout, request, f"team.{what}", student=one.id)
        if room_reads_offer(what):
            await tell_squad(db, tryout, squad, words.offered_in_room(one, until), request)
    if what == "open" and people:
        ends = int(until.timestamp())
        await scheduled_jobs.schedule_job(db, tryout.id, "team", f"{ends}", until)
        reminder = reminder_before(tryout.plan, request.at, until)
        if reminder is not None:
            key = f"{ends}-{int(reminder.timestamp())}"
            await scheduled_jobs.schedule_job(db, tryout.id, "team-reminder", key, reminder, until)
    return Replace(message=await _page(db, tryout, request))


async def _free(db: Snapshot, tryout: Tryout, ids: Iterable[int]) -> list[tuple[Student, Squad]]:
    """Those of the students who are in a squad, are not asked already, and have not said yes."""
    found = [await student_with_squad(db, tryout, student_id) for student_id in dict.fromkeys(ids)]
    return [(one, squad) for one, squad in found if squad and not holds_a_place(await mixed_team.offer_of(db, one.id))]


@view(ClassKey.TEAM_SETTLE, "coach")
async def look_at(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """What the coach may note about what is offered to a student."""
    one, _ = await student_with_squad(db, tryout, picked)
    known = check_may_settle(await mixed_team.offer_of(db, one.id), "back")
    return Replace(message=words.settle(one, known, request.at))


@act(ClassKey.TEAM_SETTLED, "coach")
async def settle(
    db: Transaction, tryout: Tryout, request: Request, what: Settled, student_id: int, stamp: str
) -> Answer:
    """Note an answer, let an offer lapse after its last moment, or take it back, if it stands as it was read."""
    one, squad = await student_with_squad(db, tryout, student_id)
    known = await mixed_team.offer_of(db, one.id)
    if known is None or stamp != words.stamp_of(known):
        return Replace(message=await _page(db, tryout, request, changed=True))
    check_may_settle(known, what)
    if what == "lapsed":
        check_may_lapse(one.name, known.answer_by, await doubt_of(db, tryout, request.at), request.at)
    if what == "back":
        await mixed_team.take_back(db, one.id)
    else:
        await mixed_team.answer(db, one.id, what, request.at)
    if squad is not None and room_is_told(known, what):
        told = words.lapsed_in_room(one) if what == "lapsed" else words.ended_in_room(one)
        await tell_squad(db, tryout, squad, told, request)
    await audit(db, tryout, request, f"team.{what}", student=one.id)
    return Replace(message=await _page(db, tryout, request))


@job("team-reminder")
async def remind(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """Shortly before the last moment each squad's room names those of the squad who still owe the answer."""
    until = datetime.fromtimestamp(int(row.key.partition("-")[0]), UTC)
    by_room: dict[int, list[Student]] = defaultdict(list)
    for one in await _owing(db, tryout, until):
        if one.squad_id is not None:
            by_room[one.squad_id].append(one)
    for squad_id, people in by_room.items():
        await outbox.enqueue(db, tryout.id, f"squad/{squad_id}", words.reminder(people, until), now, until)


@job("team")
async def overdue(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """At the last moment the office is told who has not answered; only the coach lets an offer lapse."""
    people = await _owing(db, tryout, datetime.fromtimestamp(int(row.key), UTC))
    if people:
        await outbox.enqueue(db, tryout.id, "office", words.overdue(people), now)
        await append_entry(db, tryout.id, now, "clock", "team.overdue", {"students": [one.id for one in people]})


async def _owing(db: Snapshot, tryout: Tryout, until: datetime) -> list[Student]:
    """Those who could answer until then, and have not."""
    waiting = owing(await mixed_team.offers(db, tryout.id), until, tryout.state)
    return [one for one in [await students.student(db, student_id) for student_id in waiting] if one is not None]


@view(ClassKey.TEAM_MINE)
async def mine(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show the place that is offered to me, or what I have said."""
    me = await me_of(db, tryout, request)
    known = await mixed_team.offer_of(db, me.id) if me is not None else None
    if known is not None and known.state == "accepted":
        return Say(message=words.thanks("accepted", await doubt_of(db, tryout, request.at)))
    if known is not None and known.state == "declined":
        return Say(message=words.said_no())
    if known is not None and known.state == "lapsed":
        return Say(message=words.too_late())
    me, made = await _me_with_offer(db, tryout, request)
    return Say(message=words.to_student(me, made, await doubt_of(db, tryout, request.at)))


@act(ClassKey.TEAM_YES)
async def accept(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Accept the place."""
    return await _answered(db, tryout, request, "accepted")


@act(ClassKey.TEAM_NO)
async def decline(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Decline the place; the coach is told, and may ask an alternate."""
    return await _answered(db, tryout, request, "declined")


async def _answered(db: Transaction, tryout: Tryout, request: Request, what: Literal["accepted", "declined"]) -> Answer:
    me, _ = await _me_with_offer(db, tryout, request)
    await mixed_team.answer(db, me.id, what, request.at)
    await outbox.enqueue(db, tryout.id, "office", words.to_office(me, what), request.at)
    await audit(db, tryout, request, f"team.{what}", student=me.id)
    return Replace(message=words.thanks(what, await doubt_of(db, tryout, request.at)))


async def _me_with_offer(db: Snapshot, tryout: Tryout, request: Request) -> tuple[Student, MemberOffer]:
    """The student who asks, and a place that waits for an answer; or a Refusal: `team_nothing`."""
    me = await me_of(db, tryout, request)
    known = await mixed_team.offer_of(db, me.id) if me is not None else None
    made = check_may_answer(known, tryout.state)
    if me is None:
        raise Refusal(ResultReason.TEAM_NOTHING)
    return me, made
