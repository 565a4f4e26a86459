"""Reaching the platform again: how long is waited before the next try, and how many new lines are made how soon."""

from collections.abc import Sequence
from typing import Final

FIRST_PAUSE_S: Final = 0.5
"""The pause after the first try that failed; each further one is twice as long."""
LONGEST_PAUSE_S: Final = 8.0
"""Never longer between two tries, so that we are back soon after the network is."""
QUICK, QUICK_S = 5, 10.0
"""So many new lines in so many seconds are made at once; more would be a storm."""
FRESH, FRESH_S, FRESH_PAUSE_S = 100, 10_000.0, 100.0
"""After so many fresh sessions in so many seconds, one in 100 s: the platform allows 1,000 a day."""


def pause_after(failures: int, at_least: float = 0.0) -> float:
    """How many seconds to wait after so many failed tries in a row, where the platform asks for `at_least` so many."""
    return max(at_least, min(FIRST_PAUSE_S * float(2 ** min(failures - 1, 10)), LONGEST_PAUSE_S))


def pause_before_line(made: Sequence[float], fresh: Sequence[float], now: float, *, resumes: bool) -> float:
    """How many seconds to wait before a new line: not too many at once, and not too many with a fresh session.

    `made` and `fresh` hold when the last `QUICK` lines and the last `FRESH` fresh sessions were begun, oldest first.
    """
    pause = 0.0
    if len(made) == QUICK:
        pause = max(pause, made[0] + QUICK_S - now)
    if not resumes and len(fresh) == FRESH and fresh[0] > now - FRESH_S:
        pause = max(pause, FRESH_PAUSE_S)
    return pause
