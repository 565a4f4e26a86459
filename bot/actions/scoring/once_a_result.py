"""What is worked out from a result once, as long as nothing in its book changes."""

from collections import deque
from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from bot.rules.scoring.standings_records import Standings
from storage.records.scores import ScoreBook

Found = TypeVar("Found")
MOST_KEPT = 4
"""Results of which it is remembered; a coach goes to and fro between the pages of one."""


def once_a_result(work: Callable[[ScoreBook, Standings], Found]) -> Callable[[ScoreBook, Standings], Found]:
    """Remember what this gave for the last few results.

    One book has one and the same standings (`standings_of`), which stand for it.
    """
    kept: deque[tuple[Standings, Found]] = deque(maxlen=MOST_KEPT)

    @wraps(work)
    def remembered(book: ScoreBook, standings: Standings) -> Found:
        for known, found in tuple(kept):
            if known is standings:
                return found
        found = work(book, standings)
        kept.append((standings, found))
        return found

    return remembered
