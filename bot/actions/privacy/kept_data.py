"""What is kept about the people of a try-out: read off the database as it is, and shown to the coach."""

from bot.actions.core.dispatch import view
from bot.rules.privacy.retention import purge_at
from bot.words.core.class_action_keys import ClassKey
from bot.words.privacy import kept_data as words
from storage.backup_rotation import WEEKLY
from storage.records.message import Answer, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import kept_data
from storage.tables.sql_session import Snapshot


@view(ClassKey.KEPT, "coach")
async def what_is_kept(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show what is kept, where and until when."""
    lines = [
        (table, column, one.holds if one else "", one.with_person if one else "", rows)
        for table, column, one, rows in await kept_data.kept(db, tryout.id)
    ]
    until = purge_at(tryout.plan, tryout.announced_at) if tryout.announced_at else None
    return Say(message=words.register(tryout.plan, lines, until, WEEKLY))
