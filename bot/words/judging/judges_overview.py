"""The judges as a coach sees them: how far each is and who owes which sheets, which events are open, what leads on."""

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Literal

from bot.rules.judging.judged_rubrics import judged_events
from bot.rules.judging.judges_admin import MOST_AT_ONCE
from bot.rules.judging.judges_overview import Close, about_closing, in_order, judges_who_owe
from bot.rules.judging.my_sheets import Entry
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import first_few, fitting
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.times import relative
from storage.records.judging import OpenEvent
from storage.records.message import Button, Message, PersonSelect, Row
from storage.records.people import Judge
from storage.records.tryout import Tryout

HOME = Button(key=key(ActionKey.JUDGES_PANEL), label="Back to the judges")
OPEN_AGAIN = Button(key=key(ActionKey.JUDGING_RESUME), label="Open judging again")
MOST_NAMED = 6
"""So many of the squads whose sheets a judge owes are named; the others are counted."""


def who(judge: Judge) -> str:
    """A judge by name."""
    return escape(judge.name)


def judges_overview(
    tryout: Tryout, judges: Sequence[Judge], entries: Sequence[Entry], opened: Mapping[str, OpenEvent], page: int = 0
) -> Message:
    """The judges, and everything the coach can do about judging."""
    lines = ["**Judges**"]
    listed_judges = in_order(judges)
    lines += fitting([f"{one.number}. {who(one)}: {progress_of(one, entries)}" for one in listed_judges], 1200)
    if not judges:
        lines.append("Nobody yet. Pick people below; I ask them in the news room to press **Start judging**.")
    lines += ["", *_events(tryout, opened)]
    rows: list[Row] = [PersonSelect(key=key(ActionKey.JUDGES_ADD), prompt="Add judges", most=MOST_AT_ONCE)]
    choices = [choice(one.id, one.name, f"Judge {one.number}") for one in listed_judges]
    turn = partial(key, ActionKey.JUDGES_PANEL)
    listed = list_page(choices, page, "Look at one judge", key(ActionKey.JUDGES_ONE), turn)
    rows += listed.rows
    waiting = any(event.key not in opened for event in judged_events(tryout.plan))
    rows.append(
        (
            Button(key=key(ActionKey.JUDGING_PICK_EVENT), label="Open for judging", disabled=not waiting),
            Button(key=key(ActionKey.JUDGING_STATUS), label="Who owes what", disabled=not judges),
            _close_or_resume(about_closing(tryout.state, entries)),
        )
    )
    rows.append(
        (
            Button(key=key(ActionKey.PANELS_PANEL), label="Panels", disabled=not judges),
            Button(key=key(ActionKey.TIES_PANEL), label="Knows a squad", disabled=not judges),
            Button(key=key(ActionKey.TRIALS_PANEL), label="Trial", disabled=not judges),
            Button(key=key(ActionKey.PAPER_PANEL, 0), label="Paper", disabled=not judges),
            BACK,
        )
    )
    return Message(text="\n".join(lines) + listed.line, rows=tuple(rows))


def _close_or_resume(what: Close) -> Button:
    if what == "resume":
        return OPEN_AGAIN
    style: Literal["main", "plain"] = "main" if what == "close-now" else "plain"
    return Button(key=key(ActionKey.JUDGING_CLOSE), label="Close judging", style=style, disabled=what == "not-yet")


def _events(tryout: Tryout, opened: Mapping[str, OpenEvent]) -> list[str]:
    lines = []
    for event in judged_events(tryout.plan):
        part = opened.get(event.key)
        if part is None:
            state = "a surprise: opens when you start it" if event.surprise else "opens at the deadline"
        elif part.closed_at is None:
            state = f"opened for judging {relative(part.opened_at)}"
        else:
            state = f"judging closed {relative(part.closed_at)}"
        lines.append(f"- {escape(event.name)}: {state}")
    return lines


def progress_of(judge: Judge, entries: Sequence[Entry]) -> str:
    """How far a judge is, for a coach."""
    mine = [entry for entry in entries if entry.sheet.judge_id == judge.id]
    parts = []
    if judge.opted_in_at is None:
        parts.append("asked, has not pressed **Start judging** yet")
    if mine:
        parts.append(f"{sum(entry.done for entry in mine)} of {count(len(mine), 'sheet')} done")
    if judge.weight == 0:
        parts.append("marks shown, not counted")
    return ", ".join(parts) or "ready"


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
    return [_owed_line(judge, owed) for judge, owed in judges_who_owe(judges, entries)]


def _owed_line(judge: Judge, owed: Sequence[Entry]) -> str:
    names = list(dict.fromkeys(escape(entry.squad.name) for entry in owed))
    silent = ", has not pressed **Start judging**" if judge.opted_in_at is None else ""
    return f"- {who(judge)} owes {len(owed)}: {first_few(names, MOST_NAMED)}{silent}"
