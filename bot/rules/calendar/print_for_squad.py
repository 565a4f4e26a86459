"""What a squad without accounts gets on paper: from when on the brief, which living messages, and in which order."""

from datetime import datetime
from typing import Literal

Section = Literal["on-paper", "members", "brief", "now", "notices"]
IN_ORDER: tuple[Section, ...] = ("on-paper", "members", "brief", "now", "notices")
"""What is printed, in this order: how to do on paper what buttons do, who is in the squad, the brief, its times and
turns as they are now, and everything that it was told."""
LIVE = ("day", "practice")
"""Live messages of a squad's room that it needs on paper as they are now: its times on the event day, and its turns."""


def prints_brief(brief_at: datetime | None) -> bool:
    """Whether the brief is printed: once it is out."""
    return brief_at is not None
