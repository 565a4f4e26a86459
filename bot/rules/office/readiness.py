"""Whether a try-out is ready for its next step: everything that is missing, at once."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

from bot.rules.calendar.calendar import Schedule
from bot.rules.event_day.day_windows import day_dates
from bot.rules.judging.judged_rubrics import is_judged
from bot.rules.office import stop_or_put_away
from storage.records.plan import Plan
from storage.records.tryout import ROOM_KINDS, RoomKind, State

Step = Literal["open", "brief", "judge", "settle", "announce", "archive"]
NEXT: dict[State, Step | None] = {
    "drafting": "open",
    "signup": "brief",
    "window": "judge",
    "judging": "settle",
    "settled": "announce",
    "announced": "archive",
    "archived": None,
}
"""The step that leads out of each state: sign-up opens, the brief goes out, the window ends, judging closes, the result
is announced, the try-out is put away."""


@dataclass(frozen=True)
class Facts:
    """What readiness depends on, read at one moment."""

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
    judges: int = 0
    judges_ready: int = 0
    """Judges who agreed to get direct messages."""
    sheets: int = 0
    sheets_done: int = 0
    """Score sheets handed in, or given back because the judge may not judge that squad."""
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

    @property
    def event_day_is_on(self) -> bool:
        """Whether today is one of the event days, where the plan has any."""
        if self.plan.event_day is None:
            return False
        return self.now.astimezone(self.schedule.zone).date() in day_dates(self.plan, self.schedule)


@dataclass(frozen=True)
class Lack:
    """One thing that is missing; `kind` names its sentence in the words."""

    kind: str
    blocks: bool = True
    """Whether the step cannot be taken before it is mended; otherwise it is only worth knowing."""
    fields: Mapping[str, object] = field(default_factory=dict)


def is_too_small(plan: Plan, members: int, allowed: bool) -> bool:
    """Whether a squad has fewer members than the plan says, and the coach has not allowed it to."""
    return members < plan.squads.smallest and not allowed


def lacks(facts: Facts, step: Step | None = None) -> tuple[Lack, ...]:
    """What is missing for a step, or for the next one; what blocks it comes first."""
    found = [*(_CHECKS[step](facts) if step else _next(facts)), *_suspended(facts)]
    return tuple(sorted(found, key=lambda lack: not lack.blocks))


def ready(facts: Facts, step: Step) -> bool:
    """Whether nothing blocks a step."""
    return not any(lack.blocks for lack in lacks(facts, step))


def _next(facts: Facts) -> Iterator[Lack]:
    step = NEXT[facts.state]
    return _CHECKS[step](facts) if step else iter(())


def _suspended(facts: Facts) -> Iterator[Lack]:
    """Named from A to Z."""
    if facts.suspended:
        yield Lack("suspended", blocks=False, fields={"students": tuple(sorted(facts.suspended))})


def _rooms(facts: Facts) -> Iterator[Lack]:
    missing = tuple(kind for kind in ROOM_KINDS if kind not in facts.rooms)
    if missing:
        yield Lack("rooms", fields={"rooms": missing})


def _open(facts: Facts) -> Iterator[Lack]:
    yield from _rooms(facts)
    if facts.schedule.brief <= facts.now:
        yield Lack("brief_past", fields={"brief": facts.schedule.brief})
    elif facts.schedule.signup_closes <= facts.now:
        yield Lack("signup_past", fields={"closes": facts.schedule.signup_closes})


def _brief(facts: Facts) -> Iterator[Lack]:
    yield from _rooms(facts)
    if facts.squads == 0:
        yield Lack("no_squads")
    if facts.small:
        yield Lack("small", blocks=False, fields={"squads": facts.small, "least": facts.plan.squads.smallest})
    if facts.waits:
        yield Lack("waits", blocks=False, fields={"squads": facts.waits})
    if facts.alone:
        yield Lack("alone", blocks=False, fields={"students": facts.alone})
    yield from _judges(facts, blocks=False)


def _judge(facts: Facts) -> Iterator[Lack]:
    if facts.now < facts.schedule.deadline:
        yield Lack("window_open", fields={"deadline": facts.schedule.deadline})
    yield from _judges(facts, blocks=False)
    if facts.small:
        yield Lack("small", blocks=False, fields={"squads": facts.small, "least": facts.plan.squads.smallest})
    if facts.waits:
        yield Lack("waits", blocks=False, fields={"squads": facts.waits})


def _judges(facts: Facts, blocks: bool) -> Iterator[Lack]:
    if not is_judged(facts.plan):
        return
    if facts.judges == 0:
        yield Lack("no_judges", blocks)
    elif facts.judges_ready < facts.judges:
        yield Lack("judges_wait", blocks, {"judges": facts.judges - facts.judges_ready})


def _settle(facts: Facts) -> Iterator[Lack]:
    yield from _judges(facts, blocks=False)
    if facts.sheets_done < facts.sheets:
        yield Lack("sheets", blocks=False, fields={"open": facts.sheets - facts.sheets_done, "all": facts.sheets})


def _announce(facts: Facts) -> Iterator[Lack]:
    yield from _rooms(facts)


def _archive(facts: Facts) -> Iterator[Lack]:
    why = stop_or_put_away.forbidden_by(facts.state, facts.protests, facts.protests_end, facts.now)
    if "protests_open" in why:
        yield Lack("protests_open", fields={"number": facts.protests})
    if "protests" in why:
        yield Lack("protests", fields={"until": facts.protests_end})
    if facts.state != "announced":
        yield Lack("not_announced", blocks=False)


_CHECKS = {
    "open": _open,
    "brief": _brief,
    "judge": _judge,
    "settle": _settle,
    "announce": _announce,
    "archive": _archive,
}
