"""Why a squad stands where it stands: which squads can be picked, in which order, and who hands in a sheet first."""

from collections.abc import Collection

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.scoring.standings import by_number
from bot.rules.scoring.standings_records import Row, Standings
from storage.records.people import Squad


def in_order(standings: Standings) -> list[Row]:
    """All squads, best first; by number while somebody is not ranked, so that no order is said."""
    everyone = [*standings.rows, *standings.unranked]
    return everyone if standings.complete else by_number(everyone)


def check_own_closed(squad: Squad, own_open: Collection[int]) -> None:
    """A coach who judges a squad has handed in the own sheet first. Raises Refusal: `own_sheet_first` (squad)."""
    if squad.id in own_open:
        raise Refusal(ResultReason.OWN_SHEET_FIRST, squad=squad.name)
