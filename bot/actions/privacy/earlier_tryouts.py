"""Try-outs that are put away and still hold names: all names of one are erased before its day, when somebody asks."""

from datetime import datetime

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import act, view
from bot.actions.privacy.purge_tryout import erase_all
from bot.rules.privacy import earlier_tryouts as rules
from bot.words.core.class_action_keys import ClassKey
from bot.words.privacy import earlier_tryouts as words
from storage.records.message import Answer, Replace, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import scheduled_jobs, tryouts
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.EARLIER, "manager", unbegun=True)
async def show(db: Snapshot, tryout: Tryout | None, request: Request) -> Answer:
    """Show which earlier try-outs of this class server still hold names."""
    return Say(message=words.earlier(await _earlier(db, request)))


@view(ClassKey.EARLIER_ASK, "manager", unbegun=True)
async def ask_erase_earlier(db: Snapshot, tryout: Tryout | None, request: Request, *, picked: int) -> Answer:
    """Ask once before the names of one are erased."""
    return Replace(message=words.sure(rules.to_erase(await _earlier(db, request), picked)))


@act(ClassKey.EARLIER_ERASED, "manager", unbegun=True)
async def erase(db: Transaction, tryout: Tryout | None, request: Request, earlier_id: int) -> Answer:
    """Erase every name of one now instead of on its day."""
    one = rules.to_erase(await _earlier(db, request), earlier_id)
    await audit(db, one, request, "purge.asked")
    await erase_all(db, one, request.at)
    await scheduled_jobs.cancel_jobs(db, one.id, "purge")
    return Replace(message=words.erased(one, await _earlier(db, request)))


async def _earlier(db: Snapshot, request: Request) -> list[tuple[Tryout, datetime]]:
    return [] if request.server_id is None else await tryouts.put_away_with_names(db, request.server_id)
