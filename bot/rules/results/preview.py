"""The coach's private view of the result: what waits for the own sheets, and when it is complete."""

from collections.abc import Collection

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.scoring.standings_records import Standings
from storage.records.scores import ScoreBook


def own_open(book: ScoreBook, who: int) -> frozenset[int]:
    """The squads for which this person, a judge, still has a sheet to hand in, and so sees nobody else's marks."""
    mine = {judge.id for judge in book.judges if judge.platform_id == who}
    return frozenset(sheet.squad_id for sheet in book.sheets if sheet.judge_id in mine and sheet.owed)


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
