"""The coach takes a student out of a squad."""

from bot.actions.core.dispatch import act, view
from bot.actions.squads.give_up_seat import give_up_seat
from bot.actions.squads.keep_correction import keep_move
from bot.actions.squads.students_admin import student_in_squad, student_page
from bot.words.core.action_keys import ActionKey
from bot.words.squads import take_student_out as words
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import corrections
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PEOPLE_OUT, "coach")
async def sure_to_take_out(db: Snapshot, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Ask once before a student is taken out of a squad."""
    one, squad = await student_in_squad(db, tryout, student_id)
    return Replace(message=words.sure_to_take_out(one, squad))


@act(ActionKey.PEOPLE_TAKEN, "coach")
async def take_out(db: Transaction, tryout: Tryout, request: Request, student_id: int) -> Answer:
    """Take a student out of a squad."""
    one, squad = await student_in_squad(db, tryout, student_id)
    before = await corrections.seat_of(db, one)
    await give_up_seat(db, tryout, request, one, squad)
    await keep_move(db, request, one, before)
    return Replace(message=await student_page(db, tryout, one.id))
