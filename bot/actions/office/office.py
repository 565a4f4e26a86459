"""The coach's office: one private panel that shows where the try-out stands and leads to everything else."""

from bot.actions.core.dispatch import view
from bot.actions.core.status_report import running_state
from bot.actions.office.readiness import facts
from bot.rules.office.readiness import lacks
from bot.words.core.action_keys import ActionKey
from bot.words.office import office as words
from storage.records.message import Answer, Message, Replace, Say
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import outbox, tryouts
from storage.tables.sql_session import Snapshot


@view(ActionKey.OFFICE, "coach", unbegun=True)
async def office(db: Snapshot, tryout: Tryout | None, request: Request) -> Answer:
    """Open the office."""
    return Say(message=await office_panel(db, tryout, request))


@view(ActionKey.OFFICE_AGAIN, "coach", unbegun=True)
async def again(db: Snapshot, tryout: Tryout | None, request: Request) -> Answer:
    """Go back to the office, as it is now."""
    return Replace(message=await office_panel(db, tryout, request))


async def office_panel(db: Snapshot, tryout: Tryout | None, request: Request) -> Message:
    """The office as it is now."""
    if tryout is None:
        server = request.server_id
        return words.begin_panel(server is not None and bool(await tryouts.put_away_with_names(db, server)))
    found = await facts(db, tryout, request.at)
    failed = await outbox.count_failed(db, tryout.id, request.at)
    return words.office_panel(found, lacks(found), words.status_line(running_state()), failed)
