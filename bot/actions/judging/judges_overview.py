"""All judges, which of them still owe sheets, and everything that a coach can do about judging."""

from bot.actions.core.dispatch import view
from bot.actions.judging.sheet_queries import all_entries
from bot.words.core.action_keys import ActionKey
from bot.words.judging import judges_overview as words
from storage.records.message import Answer, Message, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import judges, open_events
from storage.tables.sql_session import Snapshot


@view(ActionKey.JUDGES_PANEL, "coach")
async def judges_overview(db: Snapshot, tryout: Tryout, request: Request, page: int = 0) -> Answer:
    """Show the judges and everything the coach can do about judging."""
    return Replace(message=await overview(db, tryout, page))


async def overview(db: Snapshot, tryout: Tryout, page: int = 0) -> Message:
    """The coach's view of the judges and of judging."""
    return words.judges_overview(
        tryout,
        await judges.judges(db, tryout.id),
        await all_entries(db, tryout),
        await open_events.opened(db, tryout.id),
        page,
    )


@view(ActionKey.JUDGING_STATUS, "coach")
async def who_owes_sheets(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show who owes what: numbers of sheets, never a mark."""
    return Replace(message=words.who_owes_sheets(await judges.judges(db, tryout.id), await all_entries(db, tryout)))
