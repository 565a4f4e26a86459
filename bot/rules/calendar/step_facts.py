"""What is known before a step of a try-out is taken, and what may be missing for several of them.

What a step needs stands with that step: sign-up in `open_sign_up`, the brief in `release_brief`, judging in
`open_judging` and `close_judging`, the end in `stop_or_put_away`; `readiness` gathers it.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from bot.rules.calendar.calendar import Schedule
from storage.records.plan import Plan
from storage.records.tryout import ROOM_KINDS, RoomKind, State


@dataclass(frozen=True)
class Facts:
    """Where a try-out stands, read at one moment."""

    now: datetime
    state: State
    plan: Plan
    schedule: Schedule
    rooms: frozenset[RoomKind] = frozenset()
    squads: int = 0
    seated: int = 0
    """Students who are in a squad."""
    alone: int = 0
    """Students without a squad."""
    small: tuple[str, ...] = ()
    """Names of squads that are too small and were not allowed to be, but for those that have time to find members."""
    waits: tuple[str, ...] = ()
    """Names of squads that are too small and still have time to find members."""
    suspended: tuple[str, ...] = ()
    """Names of students in squads who hold an office or may manage the class server."""
    judged: bool = True
    """Whether judges mark anything in the plan."""
    judges: int = 0
    judges_ready: int = 0
    """Judges who agreed to get direct messages."""
    sheets: int = 0
    sheets_done: int = 0
    """Handed in, of the score sheets in judges' lists: not those set aside, let go, or of absent squads."""
    surprises: int = 0
    """Surprise events that have not been started."""
    questions: int = 0
    """Questions about the rules that wait for an answer."""
    protests: int = 0
    """Protests that are not decided, or were right and nothing is put right yet."""
    protests_end: datetime | None = None
    """Once announced: until when procedure and arithmetic may be questioned."""
    places_given: bool = False
    """Once announced: whether no place is free that another squad could be asked about."""
    feedback_left: int = 0
    """Squads that have not got their feedback."""


@dataclass(frozen=True)
class Lack:
    """One thing that is missing; `kind` names its sentence in the words."""

    kind: str
    blocks: bool = True
    """Whether the step cannot be taken before it is mended; otherwise it is only worth knowing."""
    fields: Mapping[str, object] = field(default_factory=dict)


def channels(facts: Facts) -> Iterator[Lack]:
    """The channels that are not chosen yet."""
    missing = tuple(kind for kind in ROOM_KINDS if kind not in facts.rooms)
    if missing:
        yield Lack("rooms", fields={"rooms": missing})


def small_squads(facts: Facts) -> Iterator[Lack]:
    """Squads that are too small, and those that still have time to find members; worth knowing."""
    if facts.small:
        yield Lack("small", blocks=False, fields={"squads": facts.small, "least": facts.plan.squads.smallest})
    if facts.waits:
        yield Lack("waits", blocks=False, fields={"squads": facts.waits})


def judges(facts: Facts) -> Iterator[Lack]:
    """No judges, or some who have not agreed, where there is something to judge; worth knowing."""
    if not facts.judged:
        return
    if facts.judges == 0:
        yield Lack("no_judges", blocks=False)
    elif facts.judges_ready < facts.judges:
        yield Lack("judges_wait", blocks=False, fields={"judges": facts.judges - facts.judges_ready})
