"""Where messages for a squad or a judge go: a squad that takes part has a room; a judge's way hangs on the judge."""

from typing import Literal

from storage.records.people import Judge, Squad

Way = Literal["gone", "unasked", "direct", "room"]


def gets_messages(squad: Squad) -> bool:
    """Whether messages go to the room of a squad: not any more once it has withdrawn."""
    return not squad.withdrawn


def way_to(judge: Judge) -> Way:
    """`gone`: removed, or erased, so that a negative number stands in the place of an account that was let go.

    `unasked`: nobody is written to privately without having asked for it. `room`: takes no direct messages.
    """
    if judge.removed or judge.platform_id < 0:
        return "gone"
    if judge.opted_in_at is None:
        return "unasked"
    return "direct" if judge.direct_closed_at is None else "room"
