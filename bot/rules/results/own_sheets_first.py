"""A coach who judges hands in the own sheets first, and sees nobody else's marks before."""

from collections.abc import Collection

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from storage.records.people import Squad
from storage.records.scores import ScoreBook


def own_open(book: ScoreBook, who: int) -> frozenset[int]:
    """The squads for which this person, a judge, still has a sheet to hand in, and so sees nobody else's marks."""
    mine = {judge.id for judge in book.judges if judge.platform_id == who}
    return frozenset(sheet.squad_id for sheet in book.sheets if sheet.judge_id in mine and sheet.owed)


def check_own_closed(squad: Squad, own_open: Collection[int]) -> None:
    """A coach who judges a squad has handed in the own sheet first. Raises Refusal: `own_sheet_first` (squad)."""
    if squad.id in own_open:
        raise Refusal(ResultReason.OWN_SHEET_FIRST, squad=squad.name)
