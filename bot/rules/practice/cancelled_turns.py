"""Practice turns that are gone after dates were moved or days closed: which, and how long their squads choose first."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from storage.records.plan import Practice
from storage.records.practice import Turn

CLAIM = timedelta(days=1)
"""For so long after days were closed, squads that lost turns choose first."""
MOST_NAMED = 10
"""So many turns that are gone are named to a squad."""


def chooses_first_until(practice: Practice | None, now: datetime) -> datetime | None:
    """Until when squads that lost turns choose first; None where the changed plan has no practice any more."""
    return None if practice is None else now + CLAIM


def stranded(slots: Sequence[datetime], turns: Sequence[Turn], now: datetime) -> list[Turn]:
    """The turns to come that begin when no turn begins any more, after dates were moved."""
    kept = set(slots)
    return [turn for turn in turns if turn.begins_at > now and turn.begins_at not in kept and turn.state != "lost"]
