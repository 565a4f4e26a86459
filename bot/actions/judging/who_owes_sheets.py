"""Who owes what: a coach sees which judges still owe sheets."""

from bot.actions.core.dispatch import view
from bot.actions.judging.sheet_queries import all_entries
from bot.words.core.action_keys import ActionKey
from bot.words.judging import who_owes_sheets as words
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges
from storage.tables.sql_session import Snapshot


@view(ActionKey.JUDGING_STATUS, "coach")
async def who_owes_sheets(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show who owes what: numbers of sheets, never a mark."""
    return Replace(message=words.who_owes_sheets(await judges.judges(db, tryout.id), await all_entries(db, tryout)))
