"""One person is erased everywhere: asked once, told what went, and the account let go of when it is out of the room."""

from datetime import datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.core.scheduled_jobs import job
from bot.actions.squads.asking_student import is_open
from bot.actions.squads.give_up_seat import give_up_seat
from bot.actions.squads.squads_changed import every_squad_changed, tell_squad
from bot.actions.squads.students_admin import student_with_squad
from bot.rules.core.picked_server_members import check_people
from bot.rules.privacy import erase_person as rules
from bot.rules.squads.captain import next_captain
from bot.words.core.action_keys import ActionKey
from bot.words.core.plain_text import escape
from bot.words.privacy import erase_person as words
from bot.words.privacy.erased_labels import ERASED, SOMEBODY, student_label
from bot.words.squads import captain as captain_words
from storage.records.message import Answer, Replace
from storage.records.people import Judge, Officer, Squad, Student
from storage.records.request import Request
from storage.records.scheduled_jobs import ScheduledJob
from storage.records.tryout import Tryout
from storage.tables import (
    corrections,
    erase_person,
    helpers,
    judges,
    live_messages,
    scheduled_jobs,
    squad_room_members,
    squads,
    students,
    waiting_students,
)
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PEOPLE_FORGET, "coach")
async def ask_student(db: Snapshot, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Ask once before a student's name is erased."""
    one, squad = await student_with_squad(db, tryout, student_id)
    what = (words.student_goes(one.id, _stays(tryout, request, squad)), words.KEPT)
    return Replace(message=words.sure_to_forget(one.name, what, ActionKey.PEOPLE_FORGOTTEN, one.id))


@act(ActionKey.PEOPLE_FORGOTTEN, "coach")
async def forget_student(db: Transaction, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Erase a student's name."""
    one, squad = await student_with_squad(db, tryout, student_id)
    names = {one.name, *await corrections.known_as(db, one.id)}
    if one.platform_id is not None:
        names.add(str(one.platform_id))
        await erase_person.forget_account(db, tryout.id, one.platform_id)
    said = [await _forget_student(db, tryout, request, one, squad)]
    return await _told(db, tryout, request, said, names)


@view(ActionKey.PEOPLE_FORGET_ACCOUNT, "coach")
async def ask_account(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask once before everything under an account is erased."""
    check_people(request.people)
    person = request.people[0]
    one, judge, officers = await _known(db, tryout, person.id)
    what = []
    if one is not None:
        _, squad = await student_with_squad(db, tryout, one.id)
        what.append(words.student_goes(one.id, _stays(tryout, request, squad)))
    if judge is not None:
        what.append(words.judge_goes(judge.number))
    what += [words.officer_goes(officer.role) for officer in officers]
    if await waiting_students.waiting_of(db, tryout.id, person.id) is not None:
        what.append(words.waiting_goes())
    if await erase_person.has_recorded(db, tryout.id, person.id):
        what.append(words.recorded_goes())
    return Replace(
        message=words.sure_to_forget(person.name, (*what, words.KEPT), ActionKey.PEOPLE_ACCOUNT_FORGOTTEN, person.id)
    )


@act(ActionKey.PEOPLE_ACCOUNT_FORGOTTEN, "coach")
async def forget_account(db: Transaction, tryout: Tryout, request: Request, account: int) -> Answer:
    """Erase everything under an account: as a student, as a judge, as a helper."""
    one, judge, officers = await _known(db, tryout, account)
    said, names = [], {str(account), *(officer.name for officer in officers)}
    if await erase_person.has_recorded(db, tryout.id, account):
        said.append(words.recorded_goes())
    await erase_person.forget_account(db, tryout.id, account)
    waits = await waiting_students.waiting_of(db, tryout.id, account)
    if waits is not None:
        await waiting_students.stop_waiting(db, tryout.id, account)
        said.append(words.waiting_goes())
        names.add(waits.name)
    if one is not None:
        _, squad = await student_with_squad(db, tryout, one.id)
        names |= {one.name, *await corrections.known_as(db, one.id)}
        said.append(await _forget_student(db, tryout, request, one, squad))
    if judge is not None:
        await erase_person.forget_judge(db, judge.id, ERASED.judge)
        await audit(db, tryout, request, "forget.judge", judge=judge.id)
        said.append(words.judge_goes(judge.number))
        names.add(judge.name)
    for officer in officers:
        await helpers.remove_officer(db, tryout.id, officer.platform_id, officer.role)
        await audit(db, tryout, request, f"helper.not-{officer.role}")
        said.append(words.officer_goes(officer.role))
    return await _told(db, tryout, request, said, names)


async def _known(db: Snapshot, tryout: Tryout, account: int) -> tuple[Student | None, Judge | None, list[Officer]]:
    """All that an account is in this try-out.

    Raises:
        Refusal: `knows_nobody` when that is nothing.
    """
    one = await students.student_of(db, tryout.id, account)
    judge = await judges.judge_of(db, tryout.id, account)
    officers = [officer for officer in await helpers.officers(db, tryout.id) if officer.platform_id == account]
    waits = await waiting_students.waiting_of(db, tryout.id, account)
    rules.check_known(one, judge, officers, waits, await erase_person.has_recorded(db, tryout.id, account))
    return one, judge, officers


async def _forget_student(db: Transaction, tryout: Tryout, request: Request, one: Student, squad: Squad | None) -> str:
    """Erase a student: altogether while squads may change, else down to a seat without a name."""
    stays = _stays(tryout, request, squad)
    if squad is not None and not stays:
        # What the squad reads about it is kept like any other message, so that it must not bring the name back.
        await give_up_seat(db, tryout, request, one.model_copy(update={"name": SOMEBODY}), squad)
    if squad is not None and stays:
        await _hand_over(db, tryout, request, one, squad)
    if stays:
        await erase_person.forget_student(db, one.id, student_label(one.id))
    else:
        await erase_person.delete_student(db, one.id)
    await audit(db, tryout, request, "forget.student", student=one.id)
    return words.student_goes(one.id, stays)


async def _hand_over(db: Transaction, tryout: Tryout, request: Request, one: Student, squad: Squad) -> None:
    """Whoever is erased leads no squad: the member who joined first does then."""
    others = [member for member in await squads.members(db, squad.id) if member.id != one.id]
    captain = next_captain(squad, others)
    if captain is not None and squad.captain_id == one.id:
        await squads.set_captain(db, squad.id, captain.id)
        await tell_squad(db, tryout, squad, captain_words.handed_over(captain), request)


def _stays(tryout: Tryout, request: Request, squad: Squad | None) -> str:
    """The name of the squad whose seat stays taken, if any."""
    stays = rules.seat_stays_taken(squad is not None, is_open(tryout, request))
    return squad.name if squad is not None and stays else ""


async def _told(db: Transaction, tryout: Tryout, request: Request, said: list[str], names: set[str]) -> Answer:
    erased = await erase_person.forget_words(db, tryout.id, {*names, *(escape(name) for name in names)}, ERASED.name)
    await every_squad_changed(db, tryout)
    await live_messages.mark_stale(db, tryout.id, "*")
    # The account is still needed until the delivery worker has taken it out of the squad's room.
    later = request.at + rules.LEAVES_ROOM_WITHIN
    await scheduled_jobs.schedule_job(db, tryout.id, "tidy", f"{request.at:%Y%m%dT%H%M%S}", later)
    return Replace(message=words.forgotten(said, erased))


@job("tidy")
async def tidy(db: Transaction, tryout: Tryout, row: ScheduledJob, now: datetime) -> None:
    """Let go of the accounts of people who have been taken out of a squad's room; wait while some are still in it."""
    await squad_room_members.tidy_seats(db, tryout.id)
    still_in_rooms = bool(await squad_room_members.seats_to_empty(db, tryout.id))
    if rules.is_looked_again(tryout.state, still_in_rooms):
        await scheduled_jobs.schedule_job(db, tryout.id, "tidy", f"{now:%Y%m%dT%H%M%S}", now + rules.LOOKED_AGAIN)
