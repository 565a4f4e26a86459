"""The coach's daily digest: who is behind, what was not said, what is due."""

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from bot.rules.calendar.squad_debts import Debt
from bot.rules.office import digest as rules
from bot.words.core.buttons import BACK
from bot.words.core.job_names import DUE
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import cut, escape
from bot.words.core.times import full_and_relative
from bot.words.delivery import undelivered
from bot.words.office.office import questions_wait
from storage.records.message import Message
from storage.records.people import Squad

WHY = {
    "too late": "it would have come too late",
    "caught up": "a later one took its place",
    "held until morning": "it waited for the morning",
    "window not open": "the window was not open",
    "sign-up not open": "sign-up was not open",
    "not ready": "it was not ready",
}
"""Why something that was due was not said or done, by the word under which it is noted."""
HEAD = "**Today**, what is new or still waits"
"""How each digest begins."""
ASK = ": **/questions**"
"""How the line ends that says how many questions wait."""
PLACE = " (button **People**)"
"""How the line ends that says who came late and has no squad, or shortly before the brief how many have none."""
STILL = "- Still to do, "
"""How the line of a squad begins that owes something; its room says the same each day."""
IN_ORDER = ("soon", "late", "skipped", "questions", "sheets", "alone", "behind")
"""The lines of a digest, what presses most first: what is due, who came late, what was not said or done, questions that
wait, sheets not handed in, students without a squad, squads that owe something."""


MOST_NAMED = 10
"""So many latecomers are named; the others are counted."""
MOST_LINES = 5
"""Under the head, so that a digest has six lines at most; more are counted on the last of them."""
LONGEST_LINE = 300
"""Characters; a longer line is cut."""


class Line(NamedTuple):
    """One line of a digest."""

    text: str
    each_time: bool
    """Whether it is said also where it stood in the digest before."""


def lines(
    behind: Sequence[tuple[Squad, Sequence[Debt]]] | None,
    alone: int,
    sheets_open: int,
    skipped: Sequence[tuple[str, str]],
    due: Sequence[tuple[str, datetime]],
    questions: int = 0,
    late: Sequence[str] = (),
) -> list[Line]:
    """Everything that a digest could say, what presses most first; of several things of a kind, when the first is due.

    `skipped` is what and why, `due` is what and when; so many `questions` wait; these came `late`. Nobody is called
    `behind` (None) while squads fill up: those who are `alone` still find one by themselves then.
    """
    kinds = list(dict.fromkeys(kind for kind, _ in due if kind in DUE))
    said: dict[str, list[str]] = {}
    first = {kind: min(at for one, at in due if one == kind) for kind in kinds}
    said["soon"] = [f"- Soon: {DUE[kind]}: {full_and_relative(at)}" for kind, at in first.items()]
    said["late"] = [f"- {_late_line(late)}{PLACE}"] if late else []
    said["skipped"] = [f"- Not said or done: {what}: {why}" for what, why in _counted(skipped)]
    said["questions"] = [f"- {questions_wait(questions)}{ASK}"] if questions else []
    said["sheets"] = [f"- Judges: {count(sheets_open, 'score sheet')} not handed in"] if sheets_open else []
    said["alone"] = [f"- {count(alone, 'student')} without a squad{'' if behind is None else PLACE}"] if alone else []
    said["behind"] = [
        f"{STILL}**{escape(squad.name)}**: {', '.join(short(debt) for debt in debts)}"
        for squad, debts in rules.worst_first(behind or ())
    ]
    filled_up = behind is not None
    return [Line(line, rules.is_said_each_time(what, filled_up)) for what in IN_ORDER for line in said[what]]


def _late_line(names: Sequence[str]) -> str:
    """Who came after sign-up had closed."""
    more = len(names) - MOST_NAMED
    shown = [escape(name) for name in names[:MOST_NAMED]] + ([f"{more} more"] if more > 0 else [])
    return f"Came late, no squad yet: {listing(shown)}"


def digest(found: Sequence[Line], before: Sequence[str] = ()) -> Message | None:
    """The digest: at most six lines, the head among them, none that stood in one `before`; None when nothing is new.

    What is said each time comes again too; those who came late are named, though their line may be cut.
    """
    known = {line for text in before for line in text.split("\n")}
    lines = [(one.each_time, cut(one.text, LONGEST_LINE)) for one in found]
    fresh = [line for again, line in lines if rules.is_said_now(again, line, known)]
    if not fresh:
        return None
    shown, more = _shortened(fresh)
    text = "\n".join((HEAD, *shown, *([_rest(fresh[-more:])] if more else [])))
    return Message(text=text, rows=((BACK.model_copy(update={"key": "office"}),),))


def _shortened(lines: Sequence[str]) -> tuple[list[str], int]:
    """The lines that there is room for, and how many more there are; these take the last line."""
    if len(lines) <= MOST_LINES:
        return list(lines), 0
    return list(lines[: MOST_LINES - 1]), len(lines) - MOST_LINES + 1


def _rest(lines: Sequence[str]) -> str:
    """How many more lines there are, and where one reads what they say: of squads in their rooms."""
    if all(line.startswith(STILL) for line in lines):
        return f"- and {len(lines)} squads more: their rooms say what is still to do"
    return f"- and {len(lines)} more: /office"


def _counted(skipped: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """Equal lines once, with their number."""
    numbers = {line: skipped.count(line) for line in dict.fromkeys(skipped)}
    return [
        (f"{DUE.get(what, what)} ({number} times)" if number > 1 else DUE.get(what, what), _reason(why))
        for (what, why), number in numbers.items()
    ]


def _reason(why: str) -> str:
    """Why something was skipped: our own short word for it, a cause with its code, or a sentence already."""
    return WHY.get(why) or undelivered.WHY.get(why.partition(" ")[0]) or why


def short(debt: Debt) -> str:
    """A debt as the coach reads it in a list."""
    match debt.kind:
        case "members":
            return f"needs {debt.number} more"
        case "brief":
            return f"{debt.number} without the brief"
        case "slot":
            return f"{count(debt.number, 'practice turn')} not booked"
        case "hand-in":
            return f"{count(debt.number, 'part')} of {escape(debt.piece)} missing"
