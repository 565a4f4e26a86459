"""The coach's private view of the result: when it is complete, when files go along, in what order squads are picked."""

from collections.abc import Collection

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.scoring.standings import by_number
from bot.rules.scoring.standings_records import Row, Standings


def check_complete(standings: Standings) -> None:
    """Every squad is ranked, so that what is said about the place is no accident.

    Raises Refusal: `nothing_ranked`, `not_complete_yet`.
    """
    if not standings.rows:
        raise Refusal(ResultReason.NOTHING_RANKED)
    if not standings.complete:
        raise Refusal(ResultReason.NOT_COMPLETE_YET)


def shows_files(standings: Standings, hidden: Collection[int]) -> bool:
    """Whether the files with every mark go along: the own sheets are in (`hidden` none), and every squad is ranked.

    A table taken away before that would go on naming a wrong winner.
    """
    return not hidden and standings.complete


def in_order(standings: Standings) -> list[Row]:
    """All squads, best first; by number while somebody is not ranked, so that no order is said."""
    everyone = [*standings.rows, *standings.unranked]
    return everyone if standings.complete else by_number(everyone)
