"""The hand-in of group pieces: which events have one, until when, what makes a part, in which order parts are read,
and whether a photo stays.
"""

import re
from collections.abc import Collection, Sequence
from datetime import datetime

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.hand_in import Part
from storage.records.plan import Event, Plan
from storage.records.tryout import BEFORE_BRIEF, FROM_BRIEF_TO_CLOSE, State

SHORTEST, LONGEST = 10, 500
"""Characters of a written reason."""
PHOTO_STAYS_AT_FIRST = True
"""Whether it is chosen at first, when a part is changed, that the photo which is there stays."""
_UNSEEN = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u200b\u200e\u200f\u202a-\u202e\u2060-\u206f\ufeff]")
"""Control characters and marks that turn or hide what stands around them."""


def hand_in_events(plan: Plan) -> tuple[Event, ...]:
    """The events for which squads hand a piece in, in the order of the plan."""
    return tuple(event for event in plan.events if event.hand_in)


def pieces_out(plan: Plan, brief_is_out: bool) -> tuple[Event, ...]:
    """The events whose piece stands in the rooms of squads: all of these, once the brief is out."""
    return hand_in_events(plan) if brief_is_out else ()


def named_piece(events: Sequence[Event], typed: str) -> Event | None:
    """The event whose piece is meant by its key or its name; the only one where nothing is typed."""
    if not typed:
        return events[0] if len(events) == 1 else None
    meant = " ".join(typed.split()).casefold()
    return next((event for event in events if meant in (event.key, event.name.casefold())), None)


def ends(deadline: datetime, extended: datetime | None) -> datetime:
    """Until when a squad hands in: the common deadline, or the end of more time where that is later."""
    return max(deadline, extended or deadline)


def is_open(state: State, schedule: Schedule, now: datetime, extended: datetime | None = None) -> bool:
    """Whether members may add, change and take back parts; `extended` is until when their squad has more time.

    What was sent before the deadline counts, also where it is dealt with once judging has begun: photos take a while.
    """
    return state in FROM_BRIEF_TO_CLOSE and now < ends(schedule.deadline, extended)


def check_open(state: State, schedule: Schedule, now: datetime, extended: datetime | None = None) -> None:
    """Members may add a part now.

    Raises:
        Refusal: `hand_in_not_yet` (brief), `hand_in_closed`.
    """
    if state in BEFORE_BRIEF:
        raise Refusal(Reason.HAND_IN_NOT_YET, brief=int(schedule.brief.timestamp()))
    if not is_open(state, schedule, now, extended):
        raise Refusal(Reason.HAND_IN_CLOSED, why="")


def is_shown_open(state: State, extended: datetime | None) -> bool:
    """Whether the message in a squad's room says that parts can be added: in the window, or where it has more time.

    It is shown anew when the window ends, and not at the end of more time.
    """
    return state == "window" or (extended is not None and state == "judging")


def photo_stays(known: Part | None) -> bool:
    """Whether a part that is written anew keeps its photo; `known` is the part in the squad of now, if there is one.

    A photo that was handed in with an earlier squad is not taken along.
    """
    return known is not None


def read_order(members: Sequence[int], parts: Collection[int], left: Collection[int]) -> list[int]:
    """Whose parts are read one after the other: those of the members in their order, then of those who have left."""
    return [*(one for one in members if one in parts), *left]


def check_reason(text: str) -> str:
    """A written reason as one paragraph.

    Raises:
        Refusal: `hand_in_reason` (least, most), when it is too short to say anything, or too long.
    """
    tidy = " ".join(_UNSEEN.sub("", text).split())
    if not SHORTEST <= len(tidy) <= LONGEST:
        raise Refusal(Reason.HAND_IN_REASON, least=SHORTEST, most=LONGEST, length=len(tidy))
    return tidy
