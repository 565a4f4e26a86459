"""One person is erased: whether the seat in a squad stays taken, and when the account is let go."""

from datetime import timedelta

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.tryout import State

LEAVES_ROOM_WITHIN = timedelta(minutes=10)
"""So long after somebody was erased it is looked whether the account is out of the squad's room and can be let go."""

LOOKED_AGAIN = timedelta(hours=1)
"""How often that is looked at again while it is not."""


def check_known(*as_what: object) -> None:
    """Whoever is something in this try-out, or has recorded something, can be erased. Raises Refusal `knows_nobody`."""
    if not any(as_what):
        raise Refusal(Reason.KNOWS_NOBODY)


def is_looked_again(state: State, still_in_rooms: bool) -> bool:
    """Whether it is looked again: while some who must leave are still in a room, of a try-out that is not put away."""
    return still_in_rooms and state != "archived"


def seat_stays_taken(in_squad: bool, signup_open: bool) -> bool:
    """Whether a squad keeps the seat, without a name: once squads are fixed its size must not change afterwards."""
    return in_squad and not signup_open
