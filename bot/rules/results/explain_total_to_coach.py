"""Why a squad stands where it stands: which squads can be picked, and in which order."""

from bot.rules.scoring.standings import by_number
from bot.rules.scoring.standings_records import Row, Standings


def in_order(standings: Standings) -> list[Row]:
    """All squads, best first; by number while somebody is not ranked, so that no order is said."""
    everyone = [*standings.rows, *standings.unranked]
    return everyone if standings.complete else by_number(everyone)
