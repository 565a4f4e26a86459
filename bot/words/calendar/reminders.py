"""Reminders to squads on the days of the window: how long remains, and what each squad still owes."""

from collections.abc import Sequence
from dataclasses import dataclass

from bot.rules.calendar.calendar import Schedule
from bot.rules.calendar.squad_debts import Debt
from bot.words.calendar.squad_debts import debt_buttons, debt_line
from bot.words.core.mentions import to_ring
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import clock, full, relative, school_days_text
from storage.records.message import Message
from storage.records.people import Squad

LATE = "-# I was off for a while, so this comes late and stands for what you missed."


@dataclass(frozen=True)
class Left:
    """How much time is left when a reminder is said."""

    school_days: int
    """After today."""
    last_hours: bool
    last_hour: bool = False
    rings: bool = False
    """Whether it rings on the phones of those it names."""


@posted(Sign.REMINDER)
def for_everyone(schedule: Schedule, day: int, left: Left, late: bool) -> Message:
    """The reminder in the news: how long remains."""
    if left.last_hours:
        text = f"**{_last(left)}.** Deadline: {relative(schedule.deadline)}, at {clock(schedule.deadline)}."
    else:
        days = _capital(school_days_text(left.school_days))
        text = f"**Day {day} of {len(schedule.days)}.** {days}. The deadline is {full(schedule.deadline)}."
    return Message(text=f"{text}\n{LATE}" if late else text)


@posted(Sign.REMINDER)
def for_squad(
    schedule: Schedule, squad: Squad, debts: Sequence[Debt], may_change: bool, left: Left, late: bool
) -> Message:
    """The reminder in a squad's room: what this squad still owes, and whose turn it is."""
    time = (
        f"**{_last(left)}**, until {clock(schedule.deadline)}."
        if left.last_hours
        else f"**{_capital(school_days_text(left.school_days))}**, until {full(schedule.deadline)}."
    )
    lines = [f"{time} Still open for **{escape(squad.name)}**:"]
    lines += [f"- {debt_line(squad, debt, may_change, left.rings)}" for debt in debts]
    if late:
        lines.append(LATE)
    buttons = debt_buttons(debts)
    return Message(
        text="\n".join(lines),
        rows=(buttons,) if buttons else (),
        ping=to_ring([one for debt in debts for one in debt.who]) if left.rings else (),
    )


def _last(left: Left) -> str:
    return "The last hour" if left.last_hour else "The last hours"


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]
