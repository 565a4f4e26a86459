"""The spreadsheet: which tables it has. Rosters always; the standings once they are complete and not sealed."""

from collections.abc import Collection

from bot.rules.results.hidden_until_close import sealed
from bot.rules.results.preview import shows_files
from bot.rules.scoring.standings_records import Standings
from storage.records.tryout import State


def may_have_standings(state: State) -> bool:
    """Whether standings are looked for: once judging is closed."""
    return not sealed(state)


def has_standings(standings: Standings, hidden: Collection[int]) -> bool:
    """Whether the standings go in, as files do: none with gaps, and none that is `hidden` from a coach who judges."""
    return shows_files(standings, hidden)
