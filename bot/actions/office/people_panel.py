"""Everybody of a try-out in short, and where a coach goes on."""

from bot.actions.core.dispatch import view
from bot.actions.squads.members import by_squad
from bot.words.core.action_keys import ActionKey
from bot.words.office import people_panel as words
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import helpers
from storage.tables.sql_session import Snapshot


@view(ActionKey.PEOPLE_PANEL, "coach")
async def people_panel(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show everyone in short."""
    rows = await by_squad(db, tryout)
    teams = [members for squad, members in rows if squad is not None]
    alone = [one for squad, members in rows if squad is None for one in members]
    officers = await helpers.officers(db, tryout.id)
    return Replace(message=words.people_panel(officers, len(teams), sum(map(len, teams)), alone))
