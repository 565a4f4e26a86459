"""While the platform cannot be reached: one readable line when it begins, one now and then, one when it is over."""

import logging
import time

from bot.connection.reconnect_pauses import pause_after
from bot.words.core import connection_log
from bot.words.core.connection_log import Trouble

log = logging.getLogger(__name__)

REMIND_S = 600.0
"""How often an outage that goes on is mentioned again."""


class Outage:
    """Counts tries that failed and tells whoever reads the log, briefly."""

    def __init__(self, platform: str) -> None:
        """`platform` is how the platform is named in the log."""
        self._platform = platform
        self._failures = 0
        self._began = 0.0
        self._told = 0.0
        self._told_what: Trouble | None = None

    def failed(self, what: Trouble, at_least: float = 0.0) -> float:
        """Note a failed try; returns how many seconds to pause before the next, `at_least` so many."""
        now = time.monotonic()
        if not self._failures:
            self._began = now
        self._failures += 1
        if what != self._told_what or now > self._told + REMIND_S:
            log.warning("%s", connection_log.cannot_reach(self._platform, what))
            self._told, self._told_what = now, what
        return pause_after(self._failures, at_least)

    def over(self) -> None:
        """Note that it works again."""
        if self._failures:
            log.warning("%s", connection_log.reached_again(self._platform, time.monotonic() - self._began))
        self._failures, self._told_what = 0, None
