"""Reaching the platform again: how long is waited before the next try, and how many new lines are made how soon.

Also how long, where the platform says that we ask too often.
"""

from collections.abc import Sequence
from typing import Final

import discord

FIRST_PAUSE_S: Final = 0.5
"""The pause after the first try that failed; each further one is twice as long."""
LONGEST_PAUSE_S: Final = 8.0
"""Never longer between two tries, so that we are back soon after the network is."""
QUICK, QUICK_S = 5, 10.0
"""So many new lines in so many seconds are made at once; more would be a storm."""
FRESH, FRESH_S, FRESH_PAUSE_S = 100, 10_000.0, 100.0
"""After so many fresh sessions in so many seconds, one in 100 s: the platform allows 1,000 a day."""

SHUT_OUT_S, LONGEST_WISH_S = 60.0, 600.0
"""When we are told that we ask too often: the pause where none is named, and the longest that is believed."""
TOO_MANY = 429


def pause_after(failures: int, at_least: float = 0.0) -> float:
    """How many seconds to wait after so many failed tries in a row, where the platform asks for `at_least` so many."""
    return max(at_least, min(FIRST_PAUSE_S * float(2 ** min(failures - 1, 10)), LONGEST_PAUSE_S))


def wished_pause(error: BaseException) -> float:
    """How many seconds the other side asks us to wait; whoever comes back sooner is shut out for longer."""
    if isinstance(error, discord.RateLimited):
        return min(max(error.retry_after, 0.0), LONGEST_WISH_S)
    return SHUT_OUT_S if isinstance(error, discord.HTTPException) and error.status == TOO_MANY else 0.0


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
