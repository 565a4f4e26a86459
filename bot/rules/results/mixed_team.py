"""A team picked from several squads: how many are asked at once, who is free to be asked, and what can be settled."""

from collections.abc import Collection, Iterable
from datetime import datetime
from typing import Literal

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.place_offers import HOLDS_A_PLACE
from storage.records.people import Squad, Student
from storage.records.results import MemberOffer
from storage.records.tryout import State

Settled = Literal["accepted", "declined", "lapsed", "back"]
"""What a coach notes of an offer; `back`: it is offered no more, as if it had never been."""
MOST_AT_ONCE = 10
"""Students who can be offered a place, or kept as alternates, at one press."""


def check_announced(announced_at: datetime | None) -> None:
    """The result is announced. Raises Refusal: `team_early`."""
    if announced_at is None:
        raise Refusal(ResultReason.TEAM_EARLY)


def holds_a_place(offer: MemberOffer | None) -> bool:
    """Whether a student is asked already, or has said yes, and so is not asked again."""
    return offer is not None and offer.state in HOLDS_A_PLACE


def is_over(offer: MemberOffer, now: datetime) -> bool:
    """Whether an answer is still waited for after the last moment that the student was told."""
    return offer.state == "open" and offer.answer_by is not None and offer.answer_by <= now


def check_may_settle(known: MemberOffer | None, what: Settled) -> MemberOffer:
    """A coach notes an answer, or that none came, only while one is waited for; any offer can be taken back.

    Raises Refusal: `team_nothing`.
    """
    if known is None or (what != "back" and known.state != "open"):
        raise Refusal(ResultReason.TEAM_NOTHING)
    return known


def room_is_told(known: MemberOffer, what: Settled) -> bool:
    """Whether the squad's room reads what a coach notes: that somebody who holds a place does so no more."""
    return what != "accepted" and holds_a_place(known)


def room_reads_offer(what: Literal["open", "alternate"]) -> bool:
    """Whether the squad's room reads that somebody was picked: only to whom a place is offered, not who is kept."""
    return what == "open"


def check_may_answer(known: MemberOffer | None, state: State) -> MemberOffer:
    """A student answers an offer that is open, while the result is announced. Raises Refusal: `team_nothing`."""
    if known is None or known.state != "open" or state != "announced":
        raise Refusal(ResultReason.TEAM_NOTHING)
    return known


def owing(offers: Iterable[MemberOffer], until: datetime, state: State) -> list[int]:
    """The students who could answer until then and have not, by id; nobody owes while no result is announced."""
    return [one.student_id for one in offers if state == "announced" and one.state == "open" and one.answer_by == until]


def may_be_picked(state: State) -> bool:
    """Whether a coach is led to a team of several squads: while the result is announced."""
    return state == "announced"


def can_be_asked(rows: Iterable[tuple[Student, Squad]], offers: Collection[MemberOffer]) -> list[tuple[Student, Squad]]:
    """Who can be offered a place, squad by squad: every member who is not asked already and has not said yes."""
    taken = {offer.student_id for offer in offers if holds_a_place(offer)}
    return [(one, squad) for one, squad in rows if one.id not in taken]
