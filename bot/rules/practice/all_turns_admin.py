"""All turns of the practice table, page by page, as the coach looks at them: which page comes up first."""

from collections.abc import Sequence
from datetime import datetime


def page_of_next_turn(slots: Sequence[datetime], now: datetime, size: int) -> int:
    """The page, from 0, on which the next turn stands; after the last turn has begun, the last page.

    `size`: how many turns a page holds.
    """
    past = sum(begin <= now for begin in slots)
    return min(past, max(0, len(slots) - 1)) // size
