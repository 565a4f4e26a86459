"""What is written to judges: the invitation in the open; messages about sheets that came, are owed, or came back."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.calendar.calendar import Schedule
from bot.rules.judging.sheets import Entry
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SHEETS
from bot.words.core.keys import key
from bot.words.core.pages import whole_message
from bot.words.core.plain_text import count, escape, listing
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from bot.words.judging.worklist import SECRET, label, onward
from storage.records.message import Button, Message
from storage.records.people import Judge, Squad
from storage.records.tryout import Tryout


@posted(Sign.JUDGING)
def invitation(tryout: Tryout, schedule: Schedule, judges: Sequence[Judge]) -> Message:
    """Asks people, in the open, to judge; pressing the button is their consent to direct messages."""
    names = listing([f"<@{judge.platform_id}>" for judge in judges])
    return Message(
        text=f"{names}: you are asked to be a judge of **{escape(tryout.plan.name)}**. Thank you!\n"
        f"Judges mark from {full(schedule.deadline)} to {full(schedule.judging_closes)}.\n"
        "Press **Start judging**. I then send you your score sheets as a private message, and reminders while some "
        "are open.\n"
        f"{SECRET}",
        rows=(
            (
                Button(key=key(ActionKey.SHEETS_START), label="Start judging", style="main"),
                Button(key=key(ActionKey.SHEETS_DECLINE), label="Sorry, I can't"),
            ),
        ),
        ping=tuple(judge.platform_id for judge in judges),
    )


def declined() -> Message:
    """The judge cannot judge; a way back."""
    return Message(
        text="Thank you for telling me. Your coach knows that you cannot judge.\n"
        "Changed your mind? Press **Start judging**.",
        rows=((Button(key=key(ActionKey.SHEETS_START), label="Start judging"),),),
    )


def told_declined(judge: Judge) -> Message:
    """Told in the office: a judge who was asked cannot judge."""
    remove = Button(key=key(ActionKey.JUDGES_REMOVE, judge.id), label="Take off the judges", style="main")
    return Message(
        text=f"**{escape(judge.name)}** cannot be a judge. Until you take this judge off the list, sheets may still be "
        "given to them.",
        rows=((remove, Button(key=key(ActionKey.JUDGES_PANEL), label="Judges")),),
    )


def welcome() -> Message:
    """The judge is in."""
    return Message(
        text="Thank you! Your list of score sheets is on its way to your private messages.\n"
        "If nothing arrives, press **My sheets**: you can judge from here just as well.",
        rows=((Button(key=key(ActionKey.SHEETS_LIST), label="My sheets", style="main"),),),
    )


@posted(Sign.JUDGING)
def sheets_out(entries: Sequence[Entry], opened: Sequence[str], closes: datetime) -> Message:
    """Told to a judge when sheets were handed out; `opened` names the events: their sheets come first."""
    mine = [entry for entry in entries if entry.owed]
    new = [entry for entry in entries if entry.event.name in opened]
    fresh = sum(entry.owed for entry in new)
    sheets = count(fresh, "new sheet") + f", {len(mine)} in all" if 0 < fresh < len(mine) else count(len(mine), "sheet")
    return Message(
        text=f"Judging is open: {listing([escape(name) for name in opened])}. You have {sheets}. "
        f"Please finish by {full(closes)}.\n"
        "Mark one squad at a time, stop whenever you like, go on from any device.",
        rows=((*(onward(new) or onward(entries)), MY_SHEETS),),
    )


@posted(Sign.JUDGING)
def still_open(entries: Sequence[Entry], closes: datetime, late: bool) -> Message:
    """The reminder to a judge who owes sheets: how many, for whom, until when, and the next one a press away."""
    mine = [entry for entry in entries if entry.done or entry.owed]
    owed = [entry for entry in mine if entry.owed]
    names = list(dict.fromkeys(escape(entry.squad.name) for entry in owed))
    shown = ", ".join(names[:8]) + (f" and {len(names) - 8} more" if len(names) > 8 else "")
    text = f"Still open: {len(owed)} of your {count(len(mine), 'sheet')}: {shown}.\nPlease finish by {full(closes)}."
    if late:
        text += "\n-# I was off for a while, so this comes late."
    return Message(text=text, rows=((*onward(entries), MY_SHEETS),))


@posted(Sign.JUDGING)
def more_squads(squads: Sequence[Squad], entries: Sequence[Entry]) -> Message:
    """Told to a judge who takes squads over."""
    names = listing([f"**{escape(squad.name)}**" for squad in squads])
    how_many, them = ("One more squad", "it") if len(squads) == 1 else (f"{len(squads)} more squads", "them")
    return whole_message(
        f"{how_many} for you: {names}. Another judge could not mark {them}. Thank you!",
        ((*onward(entries), MY_SHEETS),),
    )


@posted(Sign.JUDGING)
def sheet_again(entry: Entry, reason: str) -> Message:
    """Told to a judge whose sheet the coach has opened again."""
    return Message(
        text=f"Your coach has opened your sheet for **{escape(entry.squad.name)}** again: {escape(reason)}\n"
        "Please look at it once more. It closes when every line is marked and saved.",
        rows=(
            (
                Button(key=key(ActionKey.SHEETS_MARK, entry.sheet.id), label=label("Look again", entry), style="main"),
                MY_SHEETS,
            ),
        ),
    )
