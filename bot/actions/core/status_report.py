"""How the running bot is, for whoever wants to show it; nothing where no bot runs (on the command line, in checks)."""

from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from storage.records.status_file import Heartbeat

_sources: list[Callable[[], "Heartbeat"]] = []


def told_by(source: Callable[[], "Heartbeat"]) -> None:
    """Name what knows how the bot is."""
    _sources[:] = [source]


def running_state() -> "Heartbeat | None":
    """How the bot is now."""
    return _sources[0]() if _sources else None
