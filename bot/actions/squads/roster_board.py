"""The roster board: all squads with their members; `squads_changed` has it shown anew."""

from bot.actions.core.live_messages import live_board
from bot.actions.squads.members import by_squad
from bot.words.squads import roster_board as words
from storage.records.message import Message
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot


@live_board("roster")
async def roster(db: Snapshot, tryout: Tryout) -> list[Message]:
    """The board of squads."""
    return words.boards(tryout.plan, await by_squad(db, tryout))
