"""What the coach does with squads: found and fill one, look at it, and rename an unkind name."""

from bot.actions.core.arguments import given
from bot.actions.core.audit import audit
from bot.actions.core.changed_meanwhile import overtaken
from bot.actions.core.dispatch import act, view
from bot.actions.squads.founding import add_squad, free_name, renames
from bot.actions.squads.keep_correction import keep_correction, keep_move
from bot.actions.squads.members import by_squad, is_small, take_seat
from bot.actions.squads.squads_changed import board_changed, tell_squad
from bot.actions.squads.students_admin import student_with_squad
from bot.rules.squads import sign_up
from bot.rules.squads import squads_admin as rules
from bot.rules.squads.latecomers import check_may_come_late
from bot.rules.squads.members import free_seats
from bot.rules.squads.names import name_keys
from bot.words.core.action_keys import ActionKey
from bot.words.core.changed_meanwhile import stamped
from bot.words.core.class_action_keys import ClassKey
from bot.words.squads import squad_room
from bot.words.squads import squads_admin as words
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import corrections, decisions, squads, students, wait_for_members
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PEOPLE_SQUADS, "coach")
async def all_squads(db: Snapshot, tryout: Tryout, request: Request, page: int) -> Answer:
    """Pick a squad."""
    return Replace(message=await list_page(db, tryout, page))


async def list_page(db: Snapshot, tryout: Tryout, page: int, said: str = "") -> Message:
    """One page of all squads; what was said of one that is not there any more comes first."""
    allowed = await decisions.allowed_small(db, tryout.id)
    return words.squads(await _sizes(db, tryout), tryout.plan, page, allowed, said)


async def _sizes(db: Snapshot, tryout: Tryout) -> list[tuple[Squad, int]]:
    return [(squad, len(members)) for squad, members in await by_squad(db, tryout) if squad is not None]


@view(ActionKey.PEOPLE_SQUAD, "coach")
async def one_squad(
    db: Snapshot,
    tryout: Tryout,
    request: Request,
    squad_id: int | None = None,
    page: int = 0,
    *,
    picked: int | None = None,
) -> Answer:
    """Show one squad; a page of the students who could come into it."""
    squad = await squad_of(db, tryout, given(picked, squad_id))
    return Replace(message=await squad_page(db, tryout, squad, page))


@view(ActionKey.PEOPLE_RENAME, "coach")
async def ask_name(db: Snapshot, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Open the form for another name."""
    return Open(form=stamped(words.rename_form(await squad_of(db, tryout, squad_id))))


@act(ActionKey.PEOPLE_RENAMED, "coach")
async def rename(db: Transaction, tryout: Tryout, request: Request, squad_id: int, stamp: str = "") -> Answer:
    """Give a squad another name, and tell it; the same name twice changes nothing the second time."""
    squad = await squad_of(db, tryout, squad_id)
    now, opens = words.rename_form(squad), (ActionKey.PEOPLE_RENAME, squad.id)
    if (told := await overtaken(db, tryout, request, now, stamp, opens, renames(squad))) is not None:
        return told
    name = await free_name(db, tryout, request.field("squad"), squad)
    if name == squad.name:
        return await _shown(db, tryout, squad)
    await squads.rename(db, squad.id, name, name_keys(name))
    await keep_correction(db, request, "rename", squad, {"name": squad.name}, {"name": name})
    await tell_squad(db, tryout, squad, words.renamed_by_coach(name), request)
    await board_changed(db, tryout, squad.id)
    await audit(db, tryout, request, "squad.rename", squad=squad.id)
    return await _shown(db, tryout, await squad_of(db, tryout, squad.id))


async def _shown(db: Snapshot, tryout: Tryout, squad: Squad) -> Answer:
    return Replace(message=await squad_page(db, tryout, squad))


async def squad_page(db: Snapshot, tryout: Tryout, squad: Squad, page: int = 0) -> Message:
    """One squad as the coach sees it now, and who could still come into it."""
    members = await squads.members(db, squad.id)
    last = await corrections.last_of(db, squad_id=squad.id)
    free = free_seats(members, tryout.plan.squads.largest)
    could = rules.could_come(squad, free, await students.students(db, tryout.id))
    small = await is_small(db, tryout, squad)
    until = await wait_for_members.waits_until(db, squad.id) if small else None
    return words.squad(squad, members, small, last, could, free, until, page)


async def squad_of(db: Snapshot, tryout: Tryout, squad_id: int) -> Squad:
    """A squad that takes part in this try-out.

    Raises:
        Refusal: `squad_withdrawn`.
    """
    return rules.check_takes_part(await squads.squad(db, squad_id), tryout.id)


@view(ClassKey.COACH_FOUND, "coach")
async def ask_squad_to_found(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for a squad that the coach founds."""
    check_may_come_late(tryout.state)
    return Open(form=words.found_form(tryout.plan))


@act(ClassKey.COACH_FOUNDED, "coach")
async def found(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Found a squad without members yet."""
    check_may_come_late(tryout.state)
    section = request.field("section")
    sign_up.check_section(tryout.plan, section)
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
        rules.check_has_no_squad(one, old)
        sign_up.check_can_join(tryout.plan, one, squad, await squads.members(db, squad.id))
        before = await corrections.seat_of(db, one)
        await take_seat(db, tryout, request, one, squad, "place")
        await keep_move(db, request, one, before)
    return Replace(message=await squad_page(db, tryout, await squad_of(db, tryout, squad_id)))
