"""Squads that the coach founds and fills, for students who have no account here."""

from bot.actions.core.dispatch import act, audit, view
from bot.actions.squads.founding import add_squad, free_name
from bot.actions.squads.keep_correction import keep_move
from bot.actions.squads.squad_changes import board_changed, take_seat, tell_squad
from bot.actions.squads.squads_admin import squad_page
from bot.actions.squads.students_admin import squad_of, student_with_squad
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads import eligibility
from bot.words.core.class_keys import ClassKey
from bot.words.squads import coach_squads as words
from bot.words.squads import squad_room
from storage.records.message import Answer, Open, Replace, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import corrections, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.COACH_FOUND, "coach")
async def ask_squad_to_found(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for a squad that the coach founds."""
    _check_may(tryout)
    return Open(form=words.found_form(tryout.plan))


@act(ClassKey.COACH_FOUNDED, "coach")
async def found(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Found a squad without members yet."""
    _check_may(tryout)
    section = request.field("section")
    eligibility.check_section(tryout.plan, section)
    name = await free_name(db, tryout, request.field("squad"))
    squad = await add_squad(db, tryout, request, name, section)
    await tell_squad(db, tryout, squad, squad_room.welcome_to_room(tryout.plan, squad), request)
    await board_changed(db, tryout, squad.id)
    await audit(db, tryout, request, "squad.found", squad=squad.id)
    return Say(message=await squad_page(db, tryout, squad))


@act(ClassKey.COACH_FILLED, "coach")
async def fill(db: Transaction, tryout: Tryout, request: Request, squad_id: int, *, picked: tuple[int, ...]) -> Answer:
    """Put students without a squad into this one, as far as the plan gives seats."""
    squad = await squad_of(db, tryout, squad_id)
    for student_id in picked:
        one, old = await student_with_squad(db, tryout, student_id)
        if old is not None:
            raise Refusal(Reason.SAME_SQUAD, student=one.name, squad=old.name)
        eligibility.check_can_join(tryout.plan, one, squad, await squads.members(db, squad.id))
        before = await corrections.seat_of(db, one)
        await take_seat(db, tryout, request, one, squad, "place")
        await keep_move(db, request, one, before)
    return Replace(message=await squad_page(db, tryout, await squad_of(db, tryout, squad_id)))


def _check_may(tryout: Tryout) -> None:
    """Squads may be founded by a coach from sign-up on until judging is closed."""
    if tryout.state not in eligibility.MAY_COME_LATE:
        raise Refusal(Reason.SIGNUP_NOT_OPEN if tryout.state == "drafting" else Reason.LATE_OVER)
