"""What a coach sees of the judges: all of them and which events are open, and what can be done about one."""

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Literal

from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.my_sheets import Entry
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.pages import fitting
from bot.words.core.plain_text import count, escape
from bot.words.core.times import relative
from storage.records.judging import OpenEvent
from storage.records.message import Button, Message, PersonSelect, Row
from storage.records.people import Judge
from storage.records.plan import Event
from storage.records.tryout import Tryout

REFUSALS = {
    Reason.NOT_A_JUDGE: "That person is not a judge of this try-out. Open **Judges** to see who is.",
    ClassReason.JUDGES_FIXED: "Judging is closed, and totals can be read by now, so whose marks count stays as it is. "
    "To change it, press **Open judging again** first: that takes a second coach, or ten minutes, and everybody reads "
    "it with the result.",
    Reason.JUDGE_IS_PROGRAM: "That is a program, not a person. Please pick people.",
}


HOME = Button(key=key(ActionKey.JUDGES_PANEL), label="Back to the judges")


def who(judge: Judge) -> str:
    """A judge by name."""
    return escape(judge.name)


def name(text: str) -> str:
    """People's or the plan's words, harmless."""
    return escape(text)


def judges_panel(
    tryout: Tryout, judges: Sequence[Judge], entries: Sequence[Entry], opened: Mapping[str, OpenEvent], page: int = 0
) -> Message:
    """The judges, and everything the coach can do about judging."""
    lines = ["**Judges**"]
    lines += fitting([f"{judge.number}. {who(judge)}: {_progress(judge, entries)}" for judge in judges], 1200)
    if not judges:
        lines.append("Nobody yet. Pick people below; I ask them in the news room to press **Start judging**.")
    lines += ["", *_events(tryout, opened)]
    rows: list[Row] = [PersonSelect(key=key(ActionKey.JUDGES_ADD), prompt="Add judges", most=10)]
    choices = [choice(one.id, one.name, f"Judge {one.number}") for one in judges]
    turn = partial(key, ActionKey.JUDGES_PANEL)
    listed = list_page(choices, page, "Look at one judge", key(ActionKey.JUDGES_ONE), turn)
    rows += listed.rows
    waiting = any(event.key not in opened for event, _ in _judged(tryout))
    rows.append(
        (
            Button(key=key(ActionKey.JUDGING_PICK_EVENT), label="Open for judging", disabled=not waiting),
            Button(key=key(ActionKey.JUDGING_STATUS), label="Who owes what", disabled=not judges),
            _close_or_resume(tryout, bool(entries) and not any(entry.owed for entry in entries)),
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


def _close_or_resume(tryout: Tryout, all_in: bool) -> Button:
    if tryout.state == "settled":
        return Button(key=key(ActionKey.JUDGING_RESUME), label="Open judging again")
    now = tryout.state == "judging"
    style: Literal["main", "plain"] = "main" if now and all_in else "plain"
    return Button(key=key(ActionKey.JUDGING_CLOSE), label="Close judging", style=style, disabled=not now)


def _judged(tryout: Tryout) -> list[tuple[Event, int]]:
    found = [(event, sum(one.kind == "rubric" for one in event.measures)) for event in tryout.plan.events]
    return [(event, sheets) for event, sheets in found if sheets]


def _events(tryout: Tryout, opened: Mapping[str, OpenEvent]) -> list[str]:
    lines = []
    for event, _ in _judged(tryout):
        part = opened.get(event.key)
        if part is None:
            state = "a surprise: opens when you start it" if event.surprise else "opens at the deadline"
        elif part.closed_at is None:
            state = f"opened for judging {relative(part.opened_at)}"
        else:
            state = f"judging closed {relative(part.closed_at)}"
        lines.append(f"- {escape(event.name)}: {state}")
    return lines


def _progress(judge: Judge, entries: Sequence[Entry]) -> str:
    mine = [entry for entry in entries if entry.sheet.judge_id == judge.id]
    parts = []
    if judge.opted_in_at is None:
        parts.append("asked, has not pressed **Start judging** yet")
    if mine:
        parts.append(f"{sum(entry.done for entry in mine)} of {count(len(mine), 'sheet')} done")
    if judge.weight == 0:
        parts.append("marks shown, not counted")
    return ", ".join(parts) or "ready"


def one(judge: Judge, entries: Sequence[Entry], closed: bool = False) -> Message:
    """One judge, and what can be done; once judging is `closed`, single sheets can be opened again."""
    counts = "Marks are shown and **not counted**." if judge.weight == 0 else "Marks count."
    rows: list[Row] = []
    if judge.opted_in_at is None:
        rows.append((Button(key=key(ActionKey.JUDGES_ASK, judge.id), label="Ask again"),))
    if closed:
        rows.append((Button(key=key(ActionKey.JUDGING_PICK_SHEET, judge.id), label="Open a sheet again"),))
    rows.append(
        (
            Button(
                key=key(ActionKey.JUDGES_SHOWN_ONLY, judge.id, 1 if judge.weight == 0 else 0),
                label="Let marks count" if judge.weight == 0 else "Show, do not count",
            ),
            Button(key=key(ActionKey.JUDGES_REMOVE, judge.id), label="Remove", style="danger"),
            HOME,
        )
    )
    return Message(
        text=f"**{who(judge)}**, judge {judge.number}: {_progress(judge, entries)}\n{counts}", rows=tuple(rows)
    )


def sure_to_remove(judge: Judge, entries: Sequence[Entry]) -> Message:
    """Ask once before a judge is let go."""
    done = sum(entry.done for entry in entries)
    kept = f" {count(done, 'sheet')} handed in will be kept and no longer counted." if done else ""
    return Message(
        text=f"Remove **{who(judge)}** as a judge?{kept} You can add them again; their sheets then count again.",
        rows=((Button(key=key(ActionKey.JUDGES_REMOVED, judge.id), label="Yes, remove", style="danger"), HOME),),
    )
