"""Whether a squad may run off, by the standings at this moment."""

from bot.actions.scoring.score_book import score_book, standings_of
from bot.rules.results.hidden_until_close import sealed
from bot.rules.scorekeeping import run_offs as rules
from storage.records.people import Squad
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot


async def may_run_off(db: Snapshot, tryout: Tryout, squad: Squad) -> bool:
    """Whether a squad is in a tie that the plan's own tie-breaks did not break; nobody learns of it while sealed."""
    if sealed(tryout.state):
        return False
    return rules.may_run_off(squad.id, standings_of(await score_book(db, tryout)).ties)
