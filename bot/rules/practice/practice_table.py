"""Turns at the one practice table: which there are, who may book which, and what may be given back.

Every squad may book the same number first (its *share*). What nobody has booked by a set time before it begins goes
to the *pool*: at first for the squads with the fewest turns, a little later for all. A turn lost through equipment
does not count as had, so that the squad may book another one.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cached_property

from bot.rules.calendar.calendar import Schedule
from bot.rules.calendar.default_dates import last_day_with_turns
from bot.rules.calendar.local_time import instant
from bot.rules.calendar.school_days import SchoolDays
from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.first_round_draw import why_wait
from storage.records.plan import Plan, Practice
from storage.records.practice import PracticeDraw, Turn

HEAD_START = timedelta(hours=2)
"""For so long, at most half of the pool's time, only squads with the fewest turns may book from the pool."""


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
    def share(self) -> int:
        """Turns each squad may book first: the plan's number, or the largest whole number there is for all of them.

        Where there are more squads than turns it is 1: whoever comes first. What does not go round stays in the pool.
        """
        if self.practice.turns is not None:
            return self.practice.turns
        usable = sum(self._state(begin) != "blocked" for begin in self.slots)
        return max(1, usable // max(1, len(self.squads)))

    def held(self, squad: int) -> list[datetime]:
        """When a squad's turns begin, past and to come, without those that were lost."""
        return sorted(turn.begins_at for turn in self.turns if turn.squad_id == squad and turn.state == "held")

    def lost(self, squad: int) -> list[datetime]:
        """The turns a squad has lost through equipment."""
        return sorted(turn.begins_at for turn in self.turns if turn.squad_id == squad and turn.state == "lost")

    def lost_for_good(self, squad: int) -> int:
        """How many of a squad's lost turns it has not booked again: its share is still short by them."""
        return min(len(self.lost(squad)), max(0, self.share - len(self.held(squad))))

    @property
    def any_free(self) -> bool:
        """Whether there is a turn, past or to come, that nobody has or had."""
        return any(begin not in self.by_begin for begin in self.slots)

    def free(self, now: datetime) -> list[datetime]:
        """The turns to come that nobody has."""
        return [begin for begin in self.slots if begin > now and begin not in self.by_begin]

    def bookable(self, squad: int, now: datetime) -> list[datetime]:
        """The free turns that a squad may book now."""
        return [begin for begin in self.free(now) if self._why_not(squad, begin, now) is None]

    def opens_again(self, squad: int, now: datetime) -> datetime | None:
        """When a squad that can book nothing now may book one of the free turns, if nobody else takes it; else None."""
        moments = []
        for begin in self.free(now):
            refusal, at = self._why_not(squad, begin, now), now
            while refusal is not None and at < begin:
                # A refusal names whole seconds; what opens within one is open with the next.
                named = datetime.fromtimestamp(int(str(refusal.fields["opens"])), begin.tzinfo)
                at = named if named > at else at + timedelta(seconds=1)
                refusal = self._why_not(squad, begin, at)
            if refusal is None and at < begin:
                moments.append(at)
        first = min(moments, default=None)
        return None if first is None or first <= now else first

    def left(self, squad: int, now: datetime) -> int:
        """How many turns of its share a squad may still book: never more than there are free ones."""
        return min(max(0, self.share - len(self.held(squad))), len(self.free(now)))

    def pool_opens(self, begin: datetime) -> datetime:
        """When a turn that nobody has booked becomes open to squads that have used up their share."""
        return begin - timedelta(hours=self.practice.pool_hours)

    def pool_opens_to_all(self, begin: datetime) -> datetime:
        """When it is open to every squad, however many turns it has."""
        return self.pool_opens(begin) + min(HEAD_START, timedelta(hours=self.practice.pool_hours) / 2)

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

    def check_book(self, squad: int, begin: datetime, now: datetime) -> None:
        """Whether a squad may book a turn now.

        Raises:
            Refusal: as `check_free`; `turn_yours`; `turns_used` (share, opens: seconds), `pool_first` (opens: seconds);
                or as `why_wait`.
        """
        turn = self.by_begin.get(begin)
        if turn is not None and turn.state == "held" and turn.squad_id == squad:
            raise Refusal(Reason.TURN_YOURS)
        self.check_free(begin, now)
        refusal = self._why_not(squad, begin, now)
        if refusal is not None:
            raise refusal

    def check_give_back(self, squad: int, begin: datetime, now: datetime) -> None:
        """Whether a squad may give a turn back now. Raises Refusal `turn_not_yours`, `turn_too_close` (hours)."""
        turn = self.by_begin.get(begin)
        if turn is None or turn.squad_id != squad or turn.state != "held":
            raise Refusal(Reason.TURN_NOT_YOURS)
        if now >= self.last_give_back(begin):
            raise Refusal(Reason.TURN_TOO_CLOSE, hours=self.practice.give_back_hours)

    def last_give_back(self, begin: datetime) -> datetime:
        """Until when a turn may be given back."""
        return begin - timedelta(hours=self.practice.give_back_hours)

    def returnable(self, squad: int, now: datetime) -> list[datetime]:
        """The turns that a squad may give back now."""
        return [begin for begin in self.held(squad) if now < self.last_give_back(begin)]

    def _state(self, begin: datetime) -> str:
        turn = self.by_begin.get(begin)
        return "free" if turn is None else turn.state

    def _why_not(self, squad: int, begin: datetime, now: datetime) -> Refusal | None:
        first = max(self.claims.values(), default=now)
        if now < first and squad not in self.claims:
            return Refusal(ClassReason.LOST_FIRST, opens=_seconds(first))
        had = len(self.held(squad))
        waits = why_wait(self.lot, squad, had, now) if self.lot is not None else None
        if waits is not None:
            return waits
        if had < self.share:
            return None
        opens = self.pool_opens(begin)
        if now < opens:
            return Refusal(Reason.TURNS_USED, share=self.share, opens=_seconds(opens))
        if now < self.pool_opens_to_all(begin) and had > min(len(self.held(other)) for other in self.squads):
            return Refusal(Reason.POOL_FIRST, opens=_seconds(self.pool_opens_to_all(begin)))
        return None


def _seconds(at: datetime) -> int:
    return int(at.timestamp())
