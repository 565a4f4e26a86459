"""The hand-in as the judges of a squad read it, beside the sheet they mark."""

from bot.actions.core.dispatch import Work, slow_view
from bot.actions.hand_in.member_parts import read
from bot.actions.judging.sheet_queries import me_as_judge, my_entry
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.hand_in import parts_for_judges as words
from storage.records.message import Answer
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import squads
from storage.tables.sql_session import Snapshot


@slow_view(ActionKey.SHEETS_HAND_IN, "judge")
async def look(db: Snapshot, tryout: Tryout, request: Request, page: int, sheet_id: int) -> Work[Answer]:
    """Show a judge what the squad of one of the own sheets has handed in."""
    me = await me_as_judge(db, tryout, request)
    entry = await my_entry(db, tryout, me, sheet_id)
    if not entry.event.hand_in:
        raise Refusal(Reason.NO_HAND_IN)
    members = await squads.members(db, entry.squad.id)
    reading = words.beside_sheet(entry.sheet.id, entry.changeable, len(members))
    return await read(db, entry.event, entry.squad, words.first_names(members), reading, page)
