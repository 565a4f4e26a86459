"""A member's seat in a squad is given up, whoever asks for it: who leads then, and what becomes of an empty squad."""

from bot.actions.core.audit import audit
from bot.actions.squads.squads_changed import board_changed, tell_squad
from bot.actions.squads.take_squad_out import take_out
from bot.rules.squads.captain import next_captain
from bot.rules.squads.leave_squad import goes_when_empty
from bot.words.squads import squad_room
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import squads, students
from storage.tables.sql_session import Transaction


async def give_up_seat(db: Transaction, tryout: Tryout, request: Request, member: Student, squad: Squad) -> None:
    """Take a member out: a captain is followed by whoever joined first.

    A squad that is empty then is closed, but not once the result is announced, in which it stands.
    """
    await students.unseat(db, member)
    stay = await squads.members(db, squad.id)
    captain = next_captain(squad, stay)
    if captain is None and goes_when_empty(tryout.result_stands):
        await take_out(db, squad.id)
    elif captain is None:
        await squads.set_captain(db, squad.id, None)
    else:
        await squads.set_captain(db, squad.id, captain.id)
        changed = captain if captain.id != squad.captain_id else None
        await tell_squad(db, tryout, squad, squad_room.went(member.name, changed), request)
    await board_changed(db, tryout, squad.id)
    await audit(db, tryout, request, "squad.leave", squad=squad.id, student=member.id)
