"""The book of incidents: how long an entry is, and in which order they are read."""

from collections.abc import Iterable

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from storage.records.results import Incident

SHORTEST, LONGEST = 3, 500
"""Characters of what happened."""
LONGEST_WHO, LONGEST_DECISION = 200, 300
"""Characters of who was concerned, and of what was decided."""


def in_order(incidents: Iterable[Incident]) -> list[Incident]:
    """The newest first."""
    return sorted(incidents, key=lambda one: one.id, reverse=True)


def read_what(typed: str) -> str:
    """What happened. Raises Refusal: `incident_empty`."""
    what = " ".join(typed.split())
    if len(what) < SHORTEST:
        raise Refusal(ResultReason.INCIDENT_EMPTY)
    return what
