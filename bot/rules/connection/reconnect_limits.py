"""Reaching the platform: how long a try may take, and how long is waited before the next."""

from collections.abc import Sequence
from typing import Final

FIRST_PAUSE_S: Final = 0.5
"""The pause after the first try that failed; each further one is twice as long."""
LONGEST_PAUSE_S: Final = 8.0
"""Never longer between two tries, so that we are back soon after the network is."""
SHUT_OUT_S, LONGEST_WISH_S = 60.0, 600.0
"""When we are told that we ask too often: the pause where none is named, and the longest that is believed."""
LOG_IN_S = 20.0
"""How long one try to log in may take."""
COMMANDS_S = 3.0
"""So long the rest waits at the start until the platform knows our commands; if it takes longer, we go on before."""
CONNECT_S = 12.0
"""How long one try to connect may take."""
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
