"""What sign-up and the later life of a squad share: who asks, whether squads may change, who must be told."""

from collections import defaultdict
from collections.abc import Collection
from functools import partial
from typing import Literal

from bot.actions.core.dispatch import audit
from bot.actions.core.followers import Followers
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.squads.exclusive_roles import check_i_may_compete, check_may_compete
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads import eligibility
from bot.rules.squads.names import check_person_name
from bot.words.squads import roster_board as roster_words
from bot.words.squads import squad_room
from storage.records.message import Message
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import class_lists, live_messages, outbox, rooms, squads, tryouts
from storage.tables.sql_session import Snapshot, Transaction

when_squads_change = Followers[Collection[int]]("squads")
"""Squads or their members have changed. Whoever follows shows anew only what concerns the squads given, so that one
press costs the same in a class of any size."""


def check_open(tryout: Tryout, request: Request) -> None:
    """Squads may still change, or a Refusal."""
    eligibility.check_signup_open(tryout.state, schedule_of(tryout).signup_closes, request.at)


def is_open(tryout: Tryout, request: Request) -> bool:
    """Whether squads may still change."""
    return eligibility.signup_is_open(tryout.state, schedule_of(tryout).signup_closes, request.at)


async def me_of(db: Snapshot, tryout: Tryout, request: Request) -> Student | None:
    """The student who asks, if known."""
    return await squads.student_of(db, tryout.id, request.who)


async def my_squad_of(db: Snapshot, tryout: Tryout, request: Request) -> tuple[Student, Squad, list[Student]]:
    """The student who asks, the squad and its members.

    Raises:
        Refusal: while sign-up is open `not_in_squad`, before `signup_not_open`, at the end `late_over`; between, where
            the coach can still help, `not_in_squad_late`, or `not_in_squad_known` once told; `squad_taken_out` or
            `squad_taken_out_open` (squad) where the coach took the squad out; `helper_cannot_compete` or
            `manager_cannot_compete` for who helps to run the try-out.
    """
    me = await me_of(db, tryout, request)
    squad = await squads.squad(db, me.squad_id) if me and me.squad_id else None
    if me is None or squad is None:
        raise await _no_squad(db, tryout, request, me)
    return me, squad, await squads.members(db, squad.id)


async def _no_squad(db: Snapshot, tryout: Tryout, request: Request, me: Student | None) -> Refusal:
    """What somebody without a squad reads."""
    await check_i_may_compete(db, tryout, request)
    open_now = is_open(tryout, request)
    taken_out = await squads.taken_out_of(db, me) if me is not None and not me.looking else None
    if taken_out is not None:
        return Refusal(Reason.SQUAD_TAKEN_OUT_OPEN if open_now else Reason.SQUAD_TAKEN_OUT, squad=taken_out.name)
    if open_now:
        return Refusal(Reason.NOT_IN_SQUAD)
    if tryout.state not in eligibility.MAY_COME_LATE:
        return Refusal(Reason.SIGNUP_NOT_OPEN if tryout.state == "drafting" else Reason.LATE_OVER)
    known = me is not None and (me.late_at is not None or me.looking)
    return Refusal(Reason.NOT_IN_SQUAD_KNOWN if known else Reason.NOT_IN_SQUAD_LATE)


async def check_unattached(db: Snapshot, student: Student) -> None:
    """A student is in no squad, or a Refusal: `already_in_squad`."""
    eligibility.check_unattached(await squads.squad(db, student.squad_id) if student.squad_id is not None else None)


async def check_may_sign_up(db: Snapshot, tryout: Tryout, request: Request, me: Student | None) -> None:
    """Nobody goes on who helps to run the try-out; nor, where there is a class list, who has not picked a name from it.

    Raises:
        Refusal: `helper_cannot_compete`, `manager_cannot_compete`, `pick_yourself` (sections).
    """
    await check_i_may_compete(db, tryout, request)
    if me is None and await class_lists.class_list(db, tryout.id) is not None:
        raise Refusal(Reason.PICK_YOURSELF, sections=tryout.plan.sections)


async def has_list(db: Snapshot, tryout: Tryout) -> bool:
    """Whether names and sections come from a class list, so that nobody types them."""
    return await class_lists.class_list(db, tryout.id) is not None


async def enter_me(db: Transaction, tryout: Tryout, request: Request, section: str) -> Student:
    """The person of the request as an unattached student of a section, entered or corrected.

    With a class list, name and section stay as they are there, whatever was typed.

    Raises:
        Refusal: `helper_cannot_compete`, `manager_cannot_compete`, `pick_yourself`, `unknown_section`,
            `already_in_squad`, or what is wrong with the name.
    """
    known = await me_of(db, tryout, request)
    await check_may_sign_up(db, tryout, request, known)
    if known is not None:
        await check_unattached(db, known)
        if await has_list(db, tryout):
            return known
    eligibility.check_section(tryout.plan, section)
    name = check_person_name(request.fields.get("name") or (known.name if known else request.name))
    if known is not None:
        await squads.correct_student(db, known.id, name, section)
        return known.model_copy(update={"name": name, "section": section})
    student_id = await squads.add_student(db, tryout.id, request.who, name, section)
    return Student(id=student_id, tryout_id=tryout.id, platform_id=request.who, name=name, section=section)


async def board_changed(db: Transaction, tryout: Tryout, *squad_ids: int) -> None:
    """The roster board must show what has changed, and all else that shows these squads."""
    db.before_commit(f"roster of {tryout.id}", partial(_show_roster, tryout_id=tryout.id))
    if squad_ids:
        await when_squads_change.tell(db, tryout, squad_ids)


async def _show_roster(db: Transaction, tryout_id: int) -> None:
    """Have the roster board shown anew, in at least as many parts as its text needs.

    It is not composed here, at each of a hundred presses; a part without text shows nothing.
    """
    tryout = await tryouts.get(db, tryout_id)
    *size, placed = await squads.roster_size(db, tryout.id)
    parts = roster_words.most_boards(tryout.plan, *size)
    for number in range(placed + 1, parts + 1):
        await live_messages.place(db, tryout.id, f"roster/{number}", "signup")
    await live_messages.mark_stale(db, tryout.id, "roster/*")


async def every_squad_changed(db: Transaction, tryout: Tryout) -> None:
    """The same where any squad may have changed."""
    squad_ids = [squad.id for squad in await squads.squads(db, tryout.id)]
    await rooms.adjust_seats(db, squad_ids)
    await board_changed(db, tryout, *squad_ids)


async def by_squad(db: Snapshot, tryout: Tryout) -> list[tuple[Squad | None, list[Student]]]:
    """Every squad with its members, then the students without one (under None)."""
    grouped: dict[int | None, list[Student]] = defaultdict(list)
    for one in await squads.students(db, tryout.id):
        grouped[one.squad_id].append(one)
    rows: list[tuple[Squad | None, list[Student]]] = [
        (squad, sorted(grouped[squad.id], key=lambda one: (one.joined_at, one.id)))
        for squad in await squads.squads(db, tryout.id)
    ]
    rows.append((None, grouped[None]))
    return rows


async def tell_squad(db: Transaction, tryout: Tryout, squad: Squad, message: Message, request: Request) -> None:
    """Say something in a squad's private room."""
    await outbox.enqueue(db, tryout.id, f"squad/{squad.id}", message, request.at)


async def take_seat(
    db: Transaction, tryout: Tryout, request: Request, one: Student, squad: Squad, how: Literal["join", "place"]
) -> None:
    """Seat a student in a squad, as captain where nobody leads it; the squad reads who came.

    The caller has checked that there is a seat.

    Raises:
        Refusal: `helper_cannot_compete`.
    """
    await check_may_compete(db, tryout, one.platform_id)
    await squads.seat(db, one, squad.id, request.at)
    await squads.lead_if_nobody_does(db, squad.id, one.id)
    await tell_squad(db, tryout, squad, squad_room.came(one.name), request)
    await board_changed(db, tryout, squad.id)
    await audit(db, tryout, request, f"squad.{how}", squad=squad.id, student=one.id)
