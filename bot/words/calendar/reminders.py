"""Reminders to squads on the days of the window: how long remains, a line for each thing a squad owes, the buttons."""

from collections.abc import Sequence
from dataclasses import dataclass

from bot.rules.calendar.calendar import Schedule
from bot.rules.calendar.squad_debts import Debt, Kind
from bot.words.calendar.brief import OPEN
from bot.words.core.mentions import called, to_ring
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import clock, full, relative, school_days_text
from bot.words.hand_in.member_parts import ADD
from bot.words.practice.booking import BOOK
from storage.records.message import Button, Message
from storage.records.people import Squad

LATE = "-# I was off for a while, so this comes late and stands for what you missed."
BUTTONS: dict[Kind, Button] = {"brief": OPEN, "hand-in": ADD, "slot": BOOK}
"""In this order the buttons stand with which to do it, as far as it can be done with a press."""


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
    lines += [f"- {_debt_line(squad, debt, may_change, left.rings)}" for debt in debts]
    if late:
        lines.append(LATE)
    buttons = _buttons(debts)
    return Message(
        text="\n".join(lines),
        rows=(buttons,) if buttons else (),
        ping=to_ring([one for debt in debts for one in debt.who]) if left.rings else (),
    )


def _buttons(debts: Sequence[Debt]) -> tuple[Button, ...]:
    """What can be done with a press, the first of them made to stand out."""
    kinds = {debt.kind for debt in debts}
    wanted = [button for kind, button in BUTTONS.items() if kind in kinds]
    return (*wanted[:1], *(button.model_copy(update={"style": "plain"}) for button in wanted[1:]))


def _debt_line(squad: Squad, debt: Debt, may_change: bool, rings: bool) -> str:
    """One thing that a squad owes; `may_change`: students still join by themselves; `rings`: the names are rung."""
    match debt.kind:
        case "members" if may_change:
            more = count(debt.number, "more member")
            return f"You need {more}: friends join with the code **{squad.join_code}**."
        case "members":
            return f"Your squad needs {count(debt.number, 'more member')}: please talk to your coach."
        case "brief":
            return f"{called(debt.who, rings)}: please read the brief, to the last page."
        case "slot":
            return f"You can still book {count(debt.number, 'practice turn')} at the table."
        case "hand-in":
            return f"{called(debt.who, rings)}: please add your part to **{escape(debt.piece)}**."


def _last(left: Left) -> str:
    return "The last hour" if left.last_hour else "The last hours"


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]
