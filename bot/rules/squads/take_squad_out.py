"""A squad is taken out: until when it can be, when its room is put away, and that it is locked then."""

from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.core.refusal import Refusal
from storage.records.delivery import Room

LOCK_ROOM = True
"""The room is locked beside being archived, where the platform lets us: nobody can open it again by writing in it."""


def check_may_take_out(result_stands: bool) -> None:
    """A coach can take a squad out until the result is announced, which it could change for others.

    Raises:
        Refusal: `result_stands`.
    """
    if result_stands:
        raise Refusal(ClassReason.RESULT_STANDS)


def goes_when_empty(result_stands: bool) -> bool:
    """Whether a squad that nobody is in any more is taken out; not once the result is announced, in which it stands."""
    return not result_stands


def may_put_room_away(room: Room) -> bool:
    """Whether a room is put away now: its squad is taken out, everybody has been shown out, and it was not done yet."""
    return room.withdrawn and not room.room_closed and not room.seats_open
