"""Closing days: the form, and what moves, before anything does."""

from collections import Counter
from collections.abc import Sequence
from datetime import date

from bot.rules.core.refusal_reasons import Reason
from bot.rules.plan.close_days import Moves, proposed
from bot.rules.plan.plan_problems import PlanProblem
from bot.words.core.buttons import BACK
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import day_text, full
from bot.words.plan.change_plan import reason_fields
from bot.words.plan.plan_problems import problem_line
from storage.records.message import Button, Form, Message, TextField
from storage.records.tryout import State

MOST_PROBLEMS_SHOWN = 5
"""So many mistakes of a plan that would not hold with these days closed are shown."""
AGAIN = Button(key=key(ClassKey.CLOSE_DAYS), label="Close a day", style="main")
REFUSALS = {
    Reason.CLOSE_PAST: "That day is past. Give today or a day to come.",
    Reason.CLOSE_ORDER: "The last day lies before the first one.",
    Reason.CLOSE_LONG: "That is longer than {most} days. Close fewer at once.",
}


def close_form(today: date, state: State) -> Form:
    """Which days, and why."""
    return Form(
        key=key(ClassKey.DAYS_CLOSED),
        title="Close a day",
        fields=(
            TextField(
                key="first",
                label="Which day is closed?",
                hint="Year-month-day. You see what moves before it does.",
                value=proposed(today).isoformat(),
                most=10,
            ),
            TextField(
                key="last",
                label="Until which day?",
                hint="For a pause of several days; empty for one day.",
                most=10,
                required=False,
            ),
            *reason_fields(state),
        ),
    )


def not_closed(why: str) -> Message:
    """The days cannot be closed so."""
    return Message(text=f"{why} Nothing has changed.", rows=((AGAIN, BACK),))


def bad_plan(problems: Sequence[PlanProblem]) -> Message:
    """The plan would not hold with these days closed."""
    lines = "\n".join(f"- {problem_line(problem)}" for problem in problems[:MOST_PROBLEMS_SHOWN])
    return whole_message(
        f"With these days closed the plan does not hold. Nothing has changed.\n{lines}", ((AGAIN, BACK),)
    )


def what_moves(found: Moves, lost: Sequence[str], practice: bool) -> str:
    """Everything that moves, for the coach; `lost` names a squad once for each turn that it loses."""
    before, after = found.before, found.after
    days = [f"{day:%A} {day.day} {day:%B}" for day in found.closed]
    lines = [f"**What moves.** Closed: {listing(days) or 'no school day'}."]
    lines.append(_moved("Deadline", before.deadline, after.deadline))
    lines.append(_moved("Judges done by", before.judging_closes, after.judging_closes))
    if found.event_days is not None:
        old, new = ([day_text(day) for day in dates] for dates in found.event_days)
        lines.append(f"- Event day: {listing(new)}" + (f" instead of {listing(old)}" if old != new else ", as before"))
    lines.append(f"- Reminders that come at another time: {found.reminders}")
    if practice:
        turns = [f"{escape(name)} ({number})" for name, number in Counter(lost).items()]
        lines.append(f"- Turns at the practice table that fall away: {listing(turns) or 'none that is booked'}")
        if turns:
            lines.append("- These squads choose first among the free turns, for a day, and read it in their rooms")
    lines.append("- Calendar files that somebody has taken stay as they were: take them again")
    return "\n".join(lines)


def _moved(what: str, old: object, new: object) -> str:
    return f"- {what}: {full(new)} instead of {full(old)}" if old != new else f"- {what}: stays {full(old)}"  # type: ignore[arg-type]
