"""The coach's daily digest: who is behind, what was not said, what is due."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.calendar.reminders import Debt
from bot.words.calendar.countdown import short
from bot.words.core.buttons import BACK
from bot.words.core.job_names import DUE
from bot.words.core.pages import pages
from bot.words.core.plain_text import count, escape
from bot.words.core.times import full_and_relative
from bot.words.delivery import undelivered
from bot.words.office.office import questions_wait
from bot.words.squads.my_squad import late_line
from storage.records.message import Message
from storage.records.people import Squad

_TOLD = ("reminder", "practice", "practice-opens", "chase", "digest", "tidy")
"""Small things that need no line of their own before they happen."""
WHY = {
    "too late": "it would have come too late",
    "caught up": "a later one took its place",
    "held until morning": "it waited for the morning",
}
ROOM = 1900


def worth_a_line(kind: str) -> bool:
    """Whether the coach wants to know beforehand that something of this kind is due."""
    return kind in DUE and kind not in _TOLD


def digest(
    behind: Sequence[tuple[Squad, Sequence[Debt]]],
    alone: int,
    sheets_open: int,
    skipped: Sequence[tuple[str, str]],
    due: Sequence[tuple[str, datetime]],
    questions: int = 0,
    late: Sequence[str] = (),
) -> Message:
    """The digest; something must stand in it.

    `skipped` is what and why, `due` is what and when; so many `questions` wait; these came `late`.
    """
    blocks = ["**Today**"]
    if due:
        blocks.append("**Due soon**\n" + "\n".join(f"- {DUE[kind]}: {full_and_relative(at)}" for kind, at in due))
    if late:
        blocks.append(f"**Came late**\n- {late_line(late)}: button **People**")
    if behind or alone:
        lines = [f"- **{escape(squad.name)}**: {', '.join(short(debt) for debt in debts)}" for squad, debts in behind]
        if alone:
            lines.append(f"- {count(alone, 'student')} without a squad")
        blocks.append("**Behind**\n" + "\n".join(lines))
    if sheets_open:
        blocks.append(f"**Judges**\n- {count(sheets_open, 'score sheet')} not handed in")
    if questions:
        blocks.append(f"**Rules**\n- {questions_wait(questions)}: **/rules questions**")
    if skipped:
        blocks.append("**Not said or done**\n" + "\n".join(f"- {what}: {why}" for what, why in _counted(skipped)))
    found = pages(blocks, ROOM)
    text = found[0] if len(found) == 1 else f"{found[0]}\n… and more: /office."
    return Message(text=text, rows=((BACK.model_copy(update={"key": "office"}),),))


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
