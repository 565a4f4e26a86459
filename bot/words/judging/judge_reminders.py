"""The reminder to a judge who still owes sheets, and what a coach reads who has reminded the judges."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.judge_reminders import REST
from bot.rules.judging.my_sheets import Entry
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import JUDGES, MY_SHEETS
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import first_few
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full, length_text
from bot.words.judging.my_sheets import onward
from storage.records.message import Button, Message

MOST_NAMED = 8
"""So many of the squads whose sheets are open are named to a judge; the others are counted."""
REFUSALS = {
    Reason.JUST_REMINDED: "The judges were reminded <t:{at}:R>. Give them "
    f"{length_text(REST)} before the next reminder.",
}


@posted(Sign.JUDGING)
def still_open(entries: Sequence[Entry], closes: datetime, late: bool) -> Message:
    """The reminder to a judge who owes sheets: how many, for whom, until when, and the next one a press away."""
    mine = [entry for entry in entries if entry.done or entry.owed]
    owed = [entry for entry in mine if entry.owed]
    names = list(dict.fromkeys(escape(entry.squad.name) for entry in owed))
    shown = first_few(names, MOST_NAMED)
    whose = f", for {count(len(names), 'squad')}" if len(names) < len(owed) else ""
    open_now = f"{len(owed)} of your {count(len(mine), 'sheet')}{whose}"
    text = f"Still open: {open_now}: {shown}.\nPlease finish by {full(closes)}."
    if late:
        text += "\n-# I was off for a while, so this comes late."
    return Message(text=text, rows=((*onward(entries), MY_SHEETS),))


def reminded(told: int, silent: int) -> Message:
    """The judges were reminded, or why not."""
    lines = [f"I have reminded {count(told, 'judge')} just now." if told else "I have written to nobody."]
    if silent:
        lines.append(
            f"{count(silent, 'judge')} cannot be written to before pressing **Start judging**. "
            "Ask again under **Judges**, or in person."
        )
    elif not told:
        lines.append("No judge owes a sheet that can be marked now.")
    return Message(
        text=" ".join(lines),
        rows=(
            (
                JUDGES,
                Button(key=key(ActionKey.RESULTS_PANEL), label="What is missing"),
            ),
        ),
    )
