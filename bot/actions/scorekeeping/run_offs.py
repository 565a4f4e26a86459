"""Which squads may run off: those in a tie that the plan's own tie-breaks did not break."""

from collections.abc import Sequence

from bot.actions.scoring.score_book import score_book, standings_of
from bot.rules.results.hidden_until_close import sealed
from storage.records.people import Squad
from storage.records.tryout import Tryout
from storage.tables.sql_session import Snapshot


async def may_run_off(db: Snapshot, tryout: Tryout, squad: Squad) -> bool:
    """Whether a squad is in a tie that the plan's own tie-breaks did not break; nobody learns of it while sealed."""
    if sealed(tryout.state):
        return False
    for tie in standings_of(await score_book(db, tryout)).ties:
        if squad.id not in tie.squads:
            continue
        groups: Sequence[tuple[int, ...]] = (tie.squads,)
        for step in tie.steps:
            if not step.by.startswith("run-off"):
                groups = step.groups
        if any(squad.id in group and len(group) > 1 for group in groups):
            return True
    return False
