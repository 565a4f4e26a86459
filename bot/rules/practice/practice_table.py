"""Turns at the one practice table: when they begin, who has which, and where they are shown."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cached_property

from bot.rules.calendar.calendar import Schedule
from bot.rules.calendar.local_time import instant
from bot.rules.calendar.plan_default_dates import last_day_with_turns
from bot.rules.calendar.school_days import SchoolDays
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan import Plan, Practice
from storage.records.practice import PracticeDraw, Turn
from storage.records.tryout import BEFORE_BRIEF, State


def slots(plan: Plan, schedule: Schedule) -> tuple[datetime, ...]:
    """The instants (UTC) at which a turn begins: on school days of the window, over by the deadline, in order.

    Where the clocks go forward over a turn it begins when they do; one that would begin before another is over is
    left out.
    """
    practice = plan.practice
    if practice is None:
        return ()
    school, length = SchoolDays(plan.calendar), timedelta(minutes=practice.minutes)
    last = last_day_with_turns(practice, len(schedule.days))
    days = [day for day in schedule.days[practice.from_day - 1 : last] if school.closed_because(day) is None]
    found: list[datetime] = []
    for begin in sorted(instant(datetime.combine(day, at), schedule.zone) for day in days for at in practice.times):
        if (not found or begin - found[-1] >= length) and schedule.brief <= begin <= schedule.deadline - length:
            found.append(begin)
    return tuple(found)


def has_begun(state: State) -> bool:
    """Whether there may be turns to see: from the brief on."""
    return state not in BEFORE_BRIEF


def shown_in_room(state: State) -> bool:
    """Whether a squad's turns stand in its room: from the brief until the try-out is put away."""
    return has_begun(state) and state != "archived"


def shown_on_board(state: State) -> bool:
    """Whether the public board of turns stands there: as long as the window is."""
    return state == "window"


@dataclass(frozen=True)
class PracticeTable:
    """All turns of a try-out at one moment of the database."""

    practice: Practice
    slots: tuple[datetime, ...]
    turns: tuple[Turn, ...]
    squads: tuple[int, ...]
    """The squads that take part."""
    lot: PracticeDraw | None = None
    """The lot for the first round, where the plan has one."""
    claims: Mapping[int, datetime] = field(default_factory=dict)
    """Squads that lost turns when days were closed, and until when they choose first."""

    @cached_property
    def by_begin(self) -> dict[datetime, Turn]:
        """What has happened to each turn that is not free."""
        return {turn.begins_at: turn for turn in self.turns}

    @cached_property
    def usable(self) -> int:
        """How many turns there are that are not closed, past and to come."""
        return sum(self._state(begin) != "blocked" for begin in self.slots)

    def held(self, squad: int) -> list[datetime]:
        """When a squad's turns begin, past and to come, without those that were lost."""
        return sorted(turn.begins_at for turn in self.turns if turn.squad_id == squad and turn.state == "held")

    def lost(self, squad: int) -> list[datetime]:
        """The turns a squad has lost through equipment."""
        return sorted(turn.begins_at for turn in self.turns if turn.squad_id == squad and turn.state == "lost")

    @property
    def any_free(self) -> bool:
        """Whether there is a turn, past or to come, that nobody has or had."""
        return any(begin not in self.by_begin for begin in self.slots)

    def free(self, now: datetime) -> list[datetime]:
        """The turns to come that nobody has."""
        return [begin for begin in self.slots if begin > now and begin not in self.by_begin]

    def check_slot(self, begin: datetime) -> None:
        """There is such a turn, or a Refusal: `no_such_turn`."""
        if begin not in self.slots:
            raise Refusal(Reason.NO_SUCH_TURN)

    def check_free(self, begin: datetime, now: datetime) -> None:
        """Nobody has a turn, and it is to come. Raises Refusal `no_such_turn`, `turn_over`, `turn_taken`."""
        self.check_slot(begin)
        if begin <= now:
            raise Refusal(Reason.TURN_OVER)
        if begin in self.by_begin:
            raise Refusal(Reason.TURN_TAKEN)

    def _state(self, begin: datetime) -> str:
        turn = self.by_begin.get(begin)
        return "free" if turn is None else turn.state
