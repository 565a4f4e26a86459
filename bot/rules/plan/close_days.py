"""Days without school that nobody had foreseen: the plan with them closed, and what moves by it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bot.rules.calendar.calendar import Schedule, schedule
from bot.rules.calendar.school_days import SchoolDays
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from storage.records.plan import Plan
from storage.records.tryout import BEFORE_BRIEF, State

MOST = 60
"""Days that can be closed at once: a pause of a whole try-out, and no slip of the hand."""


@dataclass(frozen=True)
class Moves:
    """What moves when days are closed."""

    before: Schedule
    after: Schedule
    closed: tuple[date, ...]
    """The days that were school days until now."""
    event_days: tuple[tuple[date, ...], tuple[date, ...]] | None
    """The event days that the plan names, before and after; None where they follow the deadline or there are none."""

    @property
    def reminders(self) -> int:
        """How many reminders come at another time, or not at all."""
        old = {(one.kind, one.number): one.at for one in (*self.before.reminders, *self.before.judging_reminders)}
        new = {(one.kind, one.number): one.at for one in (*self.after.reminders, *self.after.judging_reminders)}
        return sum(new.get(name) != at for name, at in old.items())


def proposed(today: date) -> date:
    """The day that stands in the form before anything is typed: tomorrow."""
    return today + timedelta(days=1)


def span(first: date, last: date | None, today: date) -> tuple[date, ...]:
    """The days from the first to the last; the first alone where no last one was typed.

    Raises:
        Refusal: `close_past`, `close_order`, `close_long` (most).
    """
    last = first if last is None else last
    if first < today:
        raise Refusal(Reason.CLOSE_PAST)
    if last < first:
        raise Refusal(Reason.CLOSE_ORDER)
    if (last - first).days >= MOST:
        raise Refusal(Reason.CLOSE_LONG, most=MOST)
    return tuple(first + timedelta(days=number) for number in range((last - first).days + 1))


def close(plan: Plan, days: Sequence[date], planned: Schedule) -> Plan:
    """The plan with these days closed.

    Where the window counts school days, the deadline moves by itself. Where it counts calendar days, it gets as many
    days more as school days of the window were closed. Event days that the plan names and that are closed move to the
    first school days that are left. Raises Refusal `no_school_days`.
    """
    calendar = plan.calendar
    lost = [day for day in days if SchoolDays(calendar).closed_because(day) is None and day in planned.days]
    closed = calendar.model_copy(update={"closed": tuple(sorted({*calendar.closed, *days}))})
    if calendar.counting == "calendar":
        closed = closed.model_copy(update={"days": calendar.days + len(lost)})
    changed = plan.model_copy(update={"calendar": closed})
    day = plan.event_day
    if day is None or not set(day.dates) & set(days):
        return changed
    school, dates = SchoolDays(closed), []
    for on in sorted(day.dates):
        free = school.first_from(on)
        while free in dates:
            free = school.first_from(free + timedelta(days=1))
        dates.append(free)
    return changed.model_copy(update={"event_day": day.model_copy(update={"dates": tuple(sorted(dates))})})


def moves(plan: Plan, changed: Plan, days: Sequence[date], brief_at: datetime | None) -> Moves:
    """What is different between two plans, of which the second has these days closed. Raises as `schedule`."""
    school = SchoolDays(plan.calendar)
    old, new = plan.event_day, changed.event_day
    named = (tuple(old.dates), tuple(new.dates)) if old and new and old.dates else None
    return Moves(
        before=schedule(plan, brief_at),
        after=schedule(changed, brief_at),
        closed=tuple(day for day in days if school.closed_because(day) is None),
        event_days=named,
    )


def loses_turns(state: State) -> bool:
    """Whether squads can lose turns at the practice table: from the brief on, as there are none before."""
    return state not in BEFORE_BRIEF
