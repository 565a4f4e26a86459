"""Protests against a result: until when, how many at once, how long one is and the reason of its verdict."""

from collections.abc import Collection
from datetime import datetime

from bot.rules.calendar.calendar import protest_ends
from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.core.refusal import Refusal
from storage.records.plan import Plan
from storage.records.protests import Protest

MOST_OPEN = 3
"""Protests of one squad that can be open at once."""
SHORTEST, LONGEST = 20, 1000
"""Characters of a protest."""
LONGEST_VERDICT = 300
"""Characters of why a protest is upheld or rejected."""


def check_time(plan: Plan, announced_at: datetime | None, now: datetime, why: str) -> None:
    """Whether protests are taken now. Raises Refusal: `protest_early`, `protest_over` (why: what the form had)."""
    if announced_at is None:
        raise Refusal(ClassReason.PROTEST_EARLY)
    if now >= protest_ends(plan, announced_at):
        raise Refusal(ClassReason.PROTEST_OVER, why=why)


def check_number(protests: Collection[Protest], squad_id: int, why: str) -> None:
    """Whether a squad may file one more. Raises Refusal: `protest_many` (most, why)."""
    if sum(one.squad_id == squad_id and one.agreed_at is None for one in protests) >= MOST_OPEN:
        raise Refusal(ClassReason.PROTEST_MANY, most=MOST_OPEN, why=why)


def check_text(text: str) -> None:
    """Whether it says enough, and not too much. Raises Refusal: `protest_length` (least, most)."""
    if not SHORTEST <= len(text) <= LONGEST:
        raise Refusal(ClassReason.PROTEST_LENGTH, least=SHORTEST, most=LONGEST)
