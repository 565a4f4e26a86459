"""A squad is taken out of the try-out: by the coach with a reason, or because nobody is in it or it was merged."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.squads.squads_admin import list_page, squad_of
from bot.actions.squads.squads_changed import board_changed
from bot.rules.core.typed_reason import reason_of
from bot.rules.squads.squads_admin import check_may_take_out
from bot.words.core.action_keys import ActionKey
from bot.words.squads import take_squad_out as words
from storage.records.message import Answer, Open, Replace
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import decisions, live_messages, practice, squad_room_members, squads, students
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PEOPLE_WITHDRAW, "coach")
async def ask_withdraw(db: Snapshot, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Open the form for the reason why a squad is taken out."""
    return Open(form=words.withdraw_form(await _may_be_taken_out(db, tryout, squad_id)))


@act(ActionKey.PEOPLE_WITHDRAWN, "coach")
async def withdraw(db: Transaction, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Take a squad out of the try-out; what it has scored stays on record and counts no more."""
    squad = await _may_be_taken_out(db, tryout, squad_id)
    reason = reason_of(request)
    for member in await squads.members(db, squad.id):
        await students.unseat(db, member)
    await take_out(db, squad.id)
    decision = await decisions.decide(db, tryout.id, "withdrawn", squad.id, None, reason, request.at)
    await board_changed(db, tryout, squad.id)
    await live_messages.mark_stale(db, tryout.id, "judge/*")
    await audit(db, tryout, request, "decision.withdrawn", decision=decision, squad=squad.id)
    return Replace(message=await list_page(db, tryout, 0, words.taken_out(squad)))


async def _may_be_taken_out(db: Snapshot, tryout: Tryout, squad_id: int) -> Squad:
    """The squad; or a Refusal: `result_stands` once the result is announced, which it could change for others."""
    check_may_take_out(tryout.result_stands)
    return await squad_of(db, tryout, squad_id)


async def take_out(db: Transaction, squad_id: int) -> None:
    """Take a squad out of the try-out: its practice turns are free, nobody leads it, and its room empties.

    Once it is empty, delivery puts the room away (`bot/delivery/room_closer.py`).
    """
    await practice.free_all(db, squad_id)
    await squads.set_withdrawn(db, squad_id)
    await squad_room_members.all_leave_room(db, squad_id)
