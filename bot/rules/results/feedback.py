"""Feedback for squads: how long it may be, who has not read theirs, what becomes of it when a result is corrected."""

from collections.abc import Iterable, Mapping
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.scoring.standings import by_number
from bot.rules.scoring.standings_records import Row
from storage.records.results import Feedback

SHORTEST, LONGEST = 10, 1800
"""Characters of a feedback that a coach writes."""


def read_text(typed: str) -> str:
    """What a coach writes instead of the draft. Raises Refusal: `feedback_short`."""
    text = typed.strip()
    if len(text) < SHORTEST:
        raise Refusal(ResultReason.FEEDBACK_SHORT)
    return text[:LONGEST]


def not_sent_yet(rows: Iterable[Row], kept: Mapping[int, Feedback]) -> list[int]:
    """The squads, by id, that have not read their feedback, in the order of the squads' numbers."""
    sent = {squad_id for squad_id, one in kept.items() if one.sent_at is not None}
    return [row.squad_id for row in in_order(rows) if row.squad_id not in sent]


def check_not_sent(kept: Feedback | None, squad: str) -> None:
    """A squad reads one text once. Raises Refusal: `feedback_sent` (squad)."""
    if is_sent(kept):
        raise Refusal(ResultReason.FEEDBACK_SENT, squad=squad)


def is_sent(kept: Feedback | None) -> bool:
    """Whether a squad has read its feedback as it is."""
    return kept is not None and kept.sent_at is not None


def in_order(rows: Iterable[Row]) -> list[Row]:
    """In which order squads stand in the coach's list: by number, so that it says nothing about places."""
    return by_number(rows)


def what_becomes_of(kept: Feedback, draft: str | None) -> Literal["stays", "drafted anew", "read again"]:
    """What becomes of a squad's feedback, where `draft` is that of the corrected result.

    A draft that was sent as it was makes way for the new one, or stays where both say the same; what the coach wrote
    is kept as it is, and counts as not sent, so that it is read again.
    """
    as_drafted = kept.sent_at == kept.edited_at
    if kept.sent_at is None or (as_drafted and kept.text == draft):
        return "stays"
    return "drafted anew" if as_drafted else "read again"
