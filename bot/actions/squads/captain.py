"""Captains: what one does with the own squad, who leads it next, and whom the coach makes captain."""

from bot.actions.core.audit import audit
from bot.actions.core.changed_meanwhile import overtaken
from bot.actions.core.dispatch import act, view
from bot.actions.squads.asking_student import check_open, my_squad_of
from bot.actions.squads.founding import free_name, renames
from bot.actions.squads.give_up_seat import give_up_seat
from bot.actions.squads.squads_changed import board_changed, tell_squad
from bot.actions.squads.students_admin import student_in_squad, student_page
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.captain import check_captain, check_others
from bot.rules.squads.members import as_they_joined
from bot.rules.squads.names import name_keys
from bot.words.core.action_keys import ActionKey
from bot.words.core.changed_meanwhile import stamped
from bot.words.squads import captain as words
from storage.records.message import Answer, Open, Replace, Say
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.SQUAD_RENAME)
async def ask_name(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form for another name."""
    squad, _ = await _captains_squad(db, tryout, request)
    return Open(form=stamped(words.rename_form(squad)))


@act(ActionKey.SQUAD_RENAMED)
async def rename(db: Transaction, tryout: Tryout, request: Request, stamp: str = "") -> Answer:
    """Give the squad another name; whoever sends the same name twice changes nothing the second time."""
    squad, _ = await _captains_squad(db, tryout, request)
    now, opens = words.rename_form(squad), (ActionKey.SQUAD_RENAME,)
    if (told := await overtaken(db, tryout, request, now, stamp, opens, renames(squad))) is not None:
        return told
    name = await free_name(db, tryout, request.field("squad"), squad)
    if name == squad.name:
        return Say(message=words.renamed(squad))
    await squads.rename(db, squad.id, name, name_keys(name))
    await board_changed(db, tryout, squad.id)
    await tell_squad(db, tryout, squad, words.renamed_in_room(name), request)
    await audit(db, tryout, request, "squad.rename", squad=squad.id)
    return Say(message=words.renamed(squad.model_copy(update={"name": name})))


@view(ActionKey.SQUAD_CAPTAIN)
async def pick_captain(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask who shall be captain."""
    _, others = await _captains_squad(db, tryout, request)
    check_others(others)
    return Replace(message=words.pick_captain(others))


@act(ActionKey.SQUAD_CAPTAIN_IS)
async def hand_over(db: Transaction, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Make another member captain."""
    squad, others = await _captains_squad(db, tryout, request)
    captain = _one_of(others, picked)
    await _leads(db, tryout, request, squad, captain)
    return Replace(message=words.handed_over(captain))


@act(ActionKey.PEOPLE_LEAD, "coach")
async def lead(db: Transaction, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Make a student captain of the own squad."""
    one, squad = await student_in_squad(db, tryout, student_id)
    await _leads(db, tryout, request, squad, one)
    return Replace(message=await student_page(db, tryout, one.id))


async def _leads(db: Transaction, tryout: Tryout, request: Request, squad: Squad, captain: Student) -> None:
    """A squad has another captain: it is told, and shown anew."""
    await squads.set_captain(db, squad.id, captain.id)
    await board_changed(db, tryout, squad.id)
    await tell_squad(db, tryout, squad, words.handed_over(captain), request)
    await audit(db, tryout, request, "squad.captain", squad=squad.id, student=captain.id)


@view(ActionKey.SQUAD_REMOVE)
async def pick_member(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Ask whom to remove."""
    _, others = await _captains_squad(db, tryout, request)
    check_others(others)
    return Replace(message=words.pick_who_goes(others))


@view(ActionKey.SQUAD_REMOVE_WHO)
async def sure_to_remove(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Ask once more before a member is removed."""
    _, others = await _captains_squad(db, tryout, request)
    return Replace(message=words.sure_to_remove(_one_of(others, picked)))


@act(ActionKey.SQUAD_REMOVED)
async def remove(db: Transaction, tryout: Tryout, request: Request, member_id: int) -> Answer:
    """Remove a member."""
    squad, others = await _captains_squad(db, tryout, request)
    member = _one_of(others, member_id)
    await give_up_seat(db, tryout, request, member, squad)
    return Replace(message=words.removed(member))


async def _captains_squad(db: Snapshot, tryout: Tryout, request: Request) -> tuple[Squad, list[Student]]:
    """The squad the asker leads, and its other members, while squads may change."""
    check_open(tryout, request)
    me, squad, members = await my_squad_of(db, tryout, request)
    check_captain(me, squad)
    return squad, as_they_joined(one for one in members if one.id != me.id)


def _one_of(members: list[Student], chosen: int) -> Student:
    for member in members:
        if member.id == chosen:
            return member
    raise Refusal(Reason.NOT_MEMBER)
