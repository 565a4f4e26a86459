"""A team picked from several squads: how many are asked at once, who is free to be asked, and what can be settled."""

from datetime import datetime
from typing import Literal

from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.core.refusal import Refusal
from storage.records.mixed_team import MemberOffer

Settled = Literal["accepted", "declined", "lapsed", "back"]
"""What a coach notes of an offer; `back`: it is offered no more, as if it had never been."""
MOST_AT_ONCE = 10
"""Students who can be offered a place, or kept as alternates, at one press."""


def check_announced(announced_at: datetime | None) -> None:
    """The result is announced. Raises Refusal: `team_early`."""
    if announced_at is None:
        raise Refusal(ClassReason.TEAM_EARLY)


def holds_a_place(offer: MemberOffer | None) -> bool:
    """Whether a student is asked already, or has said yes, and so is not asked again."""
    return offer is not None and offer.state in ("open", "accepted")


def is_over(offer: MemberOffer, now: datetime) -> bool:
    """Whether an answer is still waited for after the last moment that the student was told."""
    return offer.state == "open" and offer.answer_by is not None and offer.answer_by <= now


def check_may_settle(known: MemberOffer | None, what: Settled) -> MemberOffer:
    """A coach notes an answer, or that none came, only while one is waited for; any offer can be taken back.

    Raises Refusal: `team_nothing`.
    """
    if known is None or (what != "back" and known.state != "open"):
        raise Refusal(ClassReason.TEAM_NOTHING)
    return known
