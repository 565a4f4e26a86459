"""Records: the page that leads to protests, incidents, certificates, the head teacher's page and a spreadsheet."""

from bot.actions.core.dispatch import view
from bot.words.core.class_action_keys import ClassKey
from bot.words.results import records_page as words
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import incident_book, protests
from storage.tables.sql_session import Snapshot


@view(ClassKey.RECORDS, "coach")
async def records(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show what there is."""
    open_now, noted = await protests.count_open(db, tryout.id), await incident_book.incidents(db, tryout.id)
    return Replace(message=words.records(open_now, len(noted), tryout.state))
