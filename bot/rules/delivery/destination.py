"""Where what is for a judge goes: nowhere, not yet, into direct messages, or into a private room instead."""

from typing import Literal

from storage.records.people import Judge

Way = Literal["gone", "unasked", "direct", "room"]


def way_to(judge: Judge) -> Way:
    """`gone`: removed, or erased, so that a negative number stands in the place of an account that was let go.

    `unasked`: nobody is written to privately without having asked for it. `room`: takes no direct messages.
    """
    if judge.removed or judge.platform_id < 0:
        return "gone"
    if judge.opted_in_at is None:
        return "unasked"
    return "direct" if judge.direct_closed_at is None else "room"
