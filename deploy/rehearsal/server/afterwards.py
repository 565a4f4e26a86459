"""What can wait until the bot has its answer: the bot then goes on at the same time, on another processor."""

from __future__ import annotations

from collections.abc import Callable


class Afterwards:
    """Keeps work of one request until the answer is on its way; all other work is done at once."""

    def __init__(self) -> None:
        self._kept: list[Callable[[], None]] | None = None

    def do(self, work: Callable[[], None]) -> None:
        """Do it, or keep it until `release`."""
        if self._kept is None:
            work()
        else:
            self._kept.append(work)

    def hold(self) -> None:
        """Keep what comes from now on; nothing else may happen in the class server until `release`."""
        self.release()
        self._kept = []

    def release(self) -> None:
        """Do what was kept, in its order."""
        kept, self._kept = self._kept or (), None
        for work in kept:
            work()
