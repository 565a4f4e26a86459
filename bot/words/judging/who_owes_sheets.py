"""Who owes what: what a coach reads who asks which judges still owe sheets."""

from collections.abc import Sequence

from bot.rules.judging.my_sheets import Entry
from bot.rules.judging.who_owes_sheets import in_order
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import first_few, fitting
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.judging.judges_overview import HOME, who
from storage.records.message import Button, Message
from storage.records.people import Judge

MOST_NAMED = 6
"""So many of the squads whose sheets a judge owes are named; the others are counted."""


def who_owes_sheets(judges: Sequence[Judge], entries: Sequence[Entry]) -> Message:
    """Who owes what: numbers and squads, never a mark."""
    missing = owed_lines(judges, entries)
    done, whole = sum(entry.done for entry in entries), len(entries)
    if not entries:
        return Message(text="No sheets have been handed out yet.", rows=((HOME,),))
    head = f"**{done} of {count(whole, 'sheet')}** handed in."
    lines = missing or ["Nobody owes a sheet."]
    gaps = Button(key=key(ActionKey.JUDGING_GAPS), label="Where judges differ", disabled=not done)
    return Message(text="\n".join([head, *fitting(lines, 1800)]), rows=((gaps, HOME),))


def owed_lines(judges: Sequence[Judge], entries: Sequence[Entry]) -> list[str]:
    """One line for each judge who owes something, with the squads."""
    return [_line(judge, owed) for judge, owed in in_order(judges, entries)]


def _line(judge: Judge, owed: Sequence[Entry]) -> str:
    names = list(dict.fromkeys(escape(entry.squad.name) for entry in owed))
    silent = ", has not pressed **Start judging**" if judge.opted_in_at is None else ""
    return f"- {who(judge)} owes {len(owed)}: {first_few(names, MOST_NAMED)}{silent}"
