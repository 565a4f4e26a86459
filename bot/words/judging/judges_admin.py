"""What a coach sees of judging: the judges, which events are open, who owes what, and the close."""

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Literal

from bot.rules.core.reasons import Reason
from bot.rules.judging.sheets import Entry
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.choices import choice, list_page
from bot.words.core.keys import key
from bot.words.core.pages import fitting, whole_message
from bot.words.core.plain_text import count, escape, listing
from bot.words.core.times import relative
from storage.records.judging import OpenEvent
from storage.records.message import Button, Message, PersonSelect, Row, Select
from storage.records.people import Judge, Squad
from storage.records.plan import Event
from storage.records.tryout import Tryout

REFUSALS = {
    Reason.NOT_A_JUDGE: "That person is not a judge of this try-out. Open **Judges** to see who is.",
    Reason.JUDGE_IS_PROGRAM: "That is a program, not a person. Please pick people.",
    Reason.JUDGE_IS_READY: "{judge} has pressed **Start judging** already.",
    Reason.JUDGING_NOT_BEGUN: "It is too early for that: judging comes after the deadline. "
    "A single event can be opened for judging as soon as the brief is out.",
    Reason.JUST_REMINDED: "The judges were reminded <t:{at}:R>. Give them an hour before the next reminder.",
    Reason.OWN_SHEETS_BEFORE_CLOSE: "You judge, too, and still owe {sheets}. Hand them in first (**My sheets**), or "
    "let another coach close judging: whoever closes it sees all marks.",
    Reason.JUDGING_OVER: "Judging of this try-out is over.",
    Reason.JUDGING_RUNS: "Judging is not closed, so there is nothing to open again.",
    Reason.ALL_EVENTS_OPEN: "Every event that is judged has been opened already.",
    Reason.EVENT_OPEN: "**{event}** is open for judging already.",
    Reason.SURPRISE_FIRST: "**{event}** is a surprise: start it in the office first. Judges get the sheets at that "
    "moment.",
    Reason.NO_JUDGES: "There are no judges yet. Add some first: open **Judges** and pick people under **Add judges**.",
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
            state = f"open for judging since {relative(part.opened_at)}"
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
                key=key(ActionKey.JUDGES_SHOWN_ONLY, judge.id),
                label="Let marks count" if judge.weight == 0 else "Show, do not count",
            ),
            Button(key=key(ActionKey.JUDGES_REMOVE, judge.id), label="Remove", style="danger"),
            HOME,
        )
    )
    return Message(
        text=f"**{who(judge)}**, judge {judge.number}: {_progress(judge, entries)}\n{counts}", rows=tuple(rows)
    )


def asked_again(judge: Judge) -> Message:
    """The invitation went out once more."""
    return Message(text=f"I have asked {who(judge)} once more in the news room.", rows=((HOME,),))


def sure_to_remove(judge: Judge, entries: Sequence[Entry]) -> Message:
    """Ask once before a judge is let go."""
    done = sum(entry.done for entry in entries)
    kept = f" {count(done, 'sheet')} handed in will be kept and no longer counted." if done else ""
    return Message(
        text=f"Remove **{who(judge)}** as a judge?{kept} You can add them again; their sheets then count again.",
        rows=((Button(key=key(ActionKey.JUDGES_REMOVED, judge.id), label="Yes, remove", style="danger"), HOME),),
    )


def pick_event(events: Sequence[Event]) -> Message:
    """Pick an event that shall be judged now."""
    choices = tuple(choice(one.key, one.name) for one in events)
    return Message(
        text="Which event is to be judged now? Every judge gets the sheets at once.",
        rows=(Select(key=key(ActionKey.JUDGING_OPEN), prompt="Pick an event", choices=choices), (HOME,)),
    )


def sheets_out(events: Sequence[str], judges: Sequence[Judge], squads: Sequence[Squad]) -> Message:
    """Told to the coach when sheets were handed out."""
    what = listing([escape(one) for one in events])
    rows = ((Button(key=key(ActionKey.JUDGES_PANEL), label="Judges"),),)
    if not judges:
        text = f"**{what}** can be judged now, but there are no judges yet. Add some: press **Judges**."
        return Message(text=text, rows=rows)
    text = f"**{what}** can be judged now: {count(len(judges), 'judge')}, {count(len(squads), 'squad')}."
    silent = [who(judge) for judge in judges if judge.opted_in_at is None]
    if silent:
        named = listing(silent[:8]) if len(silent) <= 8 else f"{', '.join(silent[:8])} and {len(silent) - 8} more"
        text += f" Not pressed **Start judging** yet: {named}."
    return whole_message(text, rows)


def status(judges: Sequence[Judge], entries: Sequence[Entry]) -> Message:
    """Who owes what: numbers and squads, never a mark."""
    missing = _owed(judges, entries)
    done, whole = sum(entry.done for entry in entries), len(entries)
    if not entries:
        return Message(text="No sheets have been handed out yet.", rows=((HOME,),))
    head = f"**{done} of {count(whole, 'sheet')}** handed in."
    lines = missing or ["Nobody owes a sheet."]
    gaps = Button(key=key(ActionKey.JUDGING_GAPS), label="Where judges differ", disabled=not done)
    return Message(text="\n".join([head, *fitting(lines, 1800)]), rows=((gaps, HOME),))


def _owed(judges: Sequence[Judge], entries: Sequence[Entry]) -> list[str]:
    """One line for each judge who owes something, with the squads."""
    lines = []
    for judge in judges:
        owed = [entry for entry in entries if entry.sheet.judge_id == judge.id and entry.owed]
        if owed:
            names = list(dict.fromkeys(escape(entry.squad.name) for entry in owed))
            shown = ", ".join(names[:6]) + (f" and {len(names) - 6} more" if len(names) > 6 else "")
            silent = ", has not pressed **Start judging**" if judge.opted_in_at is None else ""
            lines.append(f"- {who(judge)} owes {len(owed)}: {shown}{silent}")
    return lines


def sure_to_close(judges: Sequence[Judge], entries: Sequence[Entry], unopened: Sequence[Event]) -> Message:
    """Ask once before judging is closed; whatever is missing is named."""
    lines = _owed(judges, entries)
    lines += [f"- {escape(event.name)} has not been opened for judging" for event in unopened]
    if not lines:
        close = Button(key=key(ActionKey.JUDGING_CLOSED), label="Close judging", style="main")
        return Message(
            text="Every sheet is in. Close judging? Judges cannot change anything after that.", rows=((close, HOME),)
        )
    close = Button(key=key(ActionKey.JUDGING_CLOSED), label="Close anyway", style="danger")
    text = (
        "**Missing:**\n" + "\n".join(fitting(lines, 1600)) + "\n\nIf you close anyway, these sheets do not count: "
        "the squads are scored by the judges who did hand in."
    )
    return Message(text=text, rows=((close, HOME),))


def closed(missing: int) -> Message:
    """Judging is over."""
    without = f" {count(missing, 'sheet')} did not come in and will not count." if missing else ""
    return Message(
        text=f"Judging is closed.{without} Judges cannot change anything now.",
        rows=(
            (
                Button(key=key(ActionKey.RESULTS_PANEL), label="See the standings", style="main"),
                Button(key=key(ActionKey.JUDGING_RESUME), label="Open judging again"),
                HOME,
            ),
        ),
    )
