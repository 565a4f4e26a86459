"""What a judge sees: the invitation, the living list of score sheets, the forms, and the private answers."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.sheets import LONGEST_COMMENT, WHOLE, Entry, go_on, last_saved, missing, next_open, opened_again, steps
from bot.words.keys import key
from bot.words.pages import turning, within
from bot.words.plain import count, escape, listing
from bot.words.when import full, relative
from storage.records.message import (
    MESSAGE_LENGTH,
    Button,
    Choice,
    Form,
    FormField,
    Message,
    RadioField,
    Select,
    TextField,
)
from storage.records.people import Judge, Squad
from storage.records.plan import Criterion
from storage.records.tryout import Tryout

PAGE = 25
LABEL = 38
SECRET = "-# No student and no other judge ever sees your marks."

REFUSALS = {
    "sheet_gone": "That score sheet is no longer yours to mark. Press **My sheets** to see the ones that are.",
    "rubric_gone": "The plan no longer has that part. Press **My sheets** to see what there is to mark.",
    "level_gone": "**{criterion}** has the levels 1 to {most}. Please open the sheet again and pick one of them.",
    "judging_shut": "Judging of this part is closed, so nothing was saved.{entered} Your coach can open a sheet again.",
    "no_sheet_left": "There is no sheet left to mark. Press **My sheets** to look at what you have marked.",
}


def invitation(tryout: Tryout, judges: Sequence[Judge]) -> Message:
    """Asks people, in the open, to judge; pressing the button is their consent to direct messages."""
    names = listing([f"<@{judge.platform_id}>" for judge in judges])
    return Message(
        text=f"{names}: you are asked to be a judge of **{escape(tryout.plan.name)}**. Thank you!\n"
        "Press **Start judging**. I then send you your score sheets as a private message, and a reminder while some "
        "are open. Nothing else.\n"
        f"{SECRET}",
        rows=((Button(key=key("sheets.start"), label="Start judging", style="main"),),),
        ping=tuple(judge.platform_id for judge in judges),
    )


def welcome() -> Message:
    """The judge is in."""
    return Message(
        text="Thank you! Your list of score sheets is on its way to your private messages.\n"
        "If nothing arrives, press **My sheets**: you can judge from here just as well.",
        rows=((Button(key=key("sheets.list"), label="My sheets", style="main"),),),
    )


def desk(
    tryout: Tryout, entries: Sequence[Entry], closes: datetime, page: int = 0, typed: Entry | None = None
) -> Message:
    """The judge's living list: what is done, started and open, the time left, and the next sheet one press away.

    `typed` is the sheet into which typed numbers go, where the judge can type at all.
    """
    head = f"**Your score sheets** for {escape(tryout.plan.name)}"
    knows = Button(key=key("sheets.tie"), label="I know someone in a squad")
    if not entries:
        text = f"{head}\nThere is nothing to mark yet. Your sheets come here when judging opens.\n{SECRET}"
        return Message(text=text, rows=((knows,),))
    lines = [head, progress(entries, closes)]
    saved = last_saved(entries)
    if saved is not None and not saved.done:
        lines.append(
            f"Saved: **{escape(saved.squad.name)}**, {saved.marked} of {saved.criteria} marked. "
            "Go on now or any other day."
        )
    foot = ["", *([] if typed is None else [_hint(typed)]), SECRET]
    text = "\n".join([*lines, *_states(entries), *foot])
    if len(text) > MESSAGE_LENGTH:
        text = "\n".join([*lines, "", "The list below has every sheet.", *foot])
    pages = -(-len(entries) // PAGE)
    page = within(page, pages)
    below = (*turning("sheets.list", page, pages), knows)
    rows = [row for row in (_onward(entries), _pick(entries, page), below) if row]
    return Message(text=text, rows=tuple(rows))


def _hint(entry: Entry) -> str:
    criterion = missing(entry.rubric, entry.sheet.marks)[0]
    return (
        f"-# You can also type in our private messages: your next number goes to {escape(entry.squad.name)}, "
        f"{escape(criterion.name)} (1 to {len(criterion.levels)})."
    )


def progress(entries: Sequence[Entry], closes: datetime) -> str:
    """How many sheets are done, started and open, and how much time is left, in one line."""
    mine = [entry for entry in entries if entry.done or entry.owed]
    done = sum(entry.done for entry in mine)
    if not any(entry.changeable and not entry.again for entry in entries):
        again = [escape(entry.squad.name) for entry in entries if entry.again]
        opened = f" Your coach has opened a sheet again: {listing(again)}." if again else " Thank you for judging!"
        return f"**{done} of {len(mine)}** done. Judging is closed.{opened}"
    if done == len(mine):
        return f"**All {done} done.** Thank you! You can change a sheet until your coach closes judging."
    started = sum(entry.sheet.state == "started" for entry in mine)
    parts = [f"**{done} of {len(mine)}** done"]
    parts += [f"{started} started"] if started else []
    parts.append(f"{len(mine) - done - started} open")
    return f"{', '.join(parts)}. Please finish by {full(closes)}, {relative(closes)}."


def _states(entries: Sequence[Entry]) -> list[str]:
    """The squads of each rubric by state."""
    lines = []
    for event, rubric in dict.fromkeys((entry.event.key, entry.rubric.key) for entry in entries):
        mine = [entry for entry in entries if (entry.event.key, entry.rubric.key) == (event, rubric)]
        lines += ["", f"**{title(mine[0])}**"]
        started = [f"{escape(e.squad.name)} ({e.marked} of {e.criteria})" for e in mine if e.sheet.state == "started"]
        for name, squads in (
            ("Done", [escape(entry.squad.name) for entry in mine if entry.done]),
            ("Started", started),
            ("Open", [escape(entry.squad.name) for entry in mine if entry.sheet.state == "open"]),
        ):
            if squads:
                lines.append(f"{name}: {', '.join(squads)}")
    return lines


def title(entry: Entry) -> str:
    """What a sheet is about: the event, and the rubric where its name says more."""
    if len(entry.event.measures) == 1 or entry.rubric.name == entry.event.name:
        return escape(entry.event.name)
    return f"{escape(entry.event.name)}: {escape(entry.rubric.name)}"


def _onward(entries: Sequence[Entry]) -> tuple[Button, ...]:
    """Go on with the sheet that was begun, and begin the next one."""
    again, started, fresh = opened_again(entries), go_on(entries), next_open(entries)
    buttons = []
    if again is not None:
        buttons.append(Button(key=key("sheets.mark", again.sheet.id), label=_label("Look again", again), style="main"))
    if started is not None:
        onward = Button(key=key("sheets.mark", started.sheet.id), label=_label("Go on", started))
        buttons.append(onward if buttons else onward.model_copy(update={"style": "main"}))
    if fresh is not None:
        onward = Button(key=key("sheets.mark", fresh.sheet.id), label=_label("Next", fresh))
        buttons.append(onward if buttons else onward.model_copy(update={"style": "main"}))
    return tuple(buttons)


def _label(word: str, entry: Entry) -> str:
    return cut(f"{word}: {entry.squad.name}", LABEL)


def cut(text: str, most: int) -> str:
    """The text, shortened to `most` characters."""
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def _pick(entries: Sequence[Entry], page: int) -> Select:
    shown = entries[page * PAGE : (page + 1) * PAGE]
    choices = tuple(
        Choice(
            value=str(entry.sheet.id), label=entry.squad.name, note=cut(f"{_plain_title(entry)}, {state(entry)}", 100)
        )
        for entry in shown
    )
    return Select(key=key("sheets.look"), prompt="Look at a sheet, or change it", choices=choices)


def _plain_title(entry: Entry) -> str:
    return entry.event.name if len(entry.event.measures) == 1 else entry.rubric.name


def state(entry: Entry) -> str:
    """How far a sheet is."""
    if entry.sheet.state == "recused":
        return "not yours to mark"
    if entry.done:
        return "done"
    return f"{entry.marked} of {entry.criteria} marked"


def sheet(entry: Entry, typing: bool = False) -> Message:
    """One sheet: what stands in it, and what can be done with it; `typing` where the judge can type marks."""
    lines = [f"**{escape(entry.squad.name)}**, section {escape(entry.squad.section)}", title(entry), ""]
    for criterion in entry.rubric.criteria:
        level = entry.sheet.marks.get(criterion.key)
        shown = "not marked yet" if level is None else mark(criterion, level)
        lines.append(f"- {escape(criterion.name)}: {shown}")
    for about, text in entry.sheet.comments.items():
        where = "Comment" if about == WHOLE else f"Comment on {_name_of(entry, about)}"
        lines.append(f"- {where}: {escape(text)}")
    buttons = [
        Button(
            key=key("sheets.mark", entry.sheet.id),
            label="Change" if entry.done else "Mark",
            style="main",
            disabled=not entry.changeable,
        )
    ]
    if typing and entry.changeable and missing(entry.rubric, entry.sheet.marks):
        buttons.append(Button(key=key("sheets.type", entry.sheet.id), label="Type the marks"))
    buttons.append(Button(key=key("sheets.tie-ask", entry.squad.id), label="I know someone here", disabled=entry.done))
    buttons.append(Button(key=key("sheets.list"), label="My sheets"))
    return Message(text=cut("\n".join(lines), MESSAGE_LENGTH), rows=(tuple(buttons),))


def mark(criterion: Criterion, level: int) -> str:
    """A level, with its descriptor."""
    return f"**{level}** of {len(criterion.levels)}: {escape(criterion.levels[level - 1])}"


def _name_of(entry: Entry, criterion: str) -> str:
    return next((escape(one.name) for one in entry.rubric.criteria if one.key == criterion), criterion)


def form(entry: Entry, number: int, opening: int) -> Form:
    """One step of a sheet, filled with what was saved.

    `opening` makes the key of every opening its own: an app would otherwise show what it kept of an earlier one.
    """
    parts = steps(entry.rubric)
    step = parts[number]
    fields: list[FormField] = []
    for criterion in step.criteria:
        fields.append(_levels(criterion, entry.sheet.marks.get(criterion.key)))
        if criterion.key in step.comments:
            fields.append(_comment(entry, criterion.key, f"Why? ({criterion.name})"))
    if WHOLE in step.comments:
        fields.append(_comment(entry, WHOLE, "Comment"))
    part = f" ({number + 1} of {len(parts)})" if len(parts) > 1 else ""
    return Form(
        key=key("sheets.save", entry.sheet.id, number, entry.sheet.version, opening),
        title=cut(entry.squad.name, 45 - len(part)) + part,
        fields=tuple(fields),
    )


def _levels(criterion: Criterion, chosen: int | None) -> RadioField:
    most = len(criterion.levels)
    choices = tuple(
        Choice(value=str(level), label=f"{level} of {most}", note=descriptor, chosen=level == chosen)
        for level, descriptor in enumerate(criterion.levels, start=1)
    )
    return RadioField(key=f"level-{criterion.key}", label=criterion.name, choices=choices, required=False)


def _comment(entry: Entry, about: str, label: str) -> TextField:
    return TextField(
        key=f"note-{about}",
        label=cut(label, 45),
        hint="What you saw, and one next step. The squad may read it, without your name.",
        value=entry.sheet.comments.get(about, ""),
        long=True,
        most=LONGEST_COMMENT,
        required=False,
    )


def saved(entry: Entry, entries: Sequence[Entry], overruled: Sequence[tuple[Criterion, int, int]] = ()) -> Message:
    """A sheet was saved: how far it is, how far all are, and what comes next.

    `overruled` names what had been marked elsewhere meanwhile: criterion, level there, level that stands now.
    """
    text = f"Saved: **{escape(entry.squad.name)}**, {entry.marked} of {entry.criteria} marked."
    left = [escape(one.name) for one in entry.rubric.criteria if one.key not in entry.sheet.marks]
    if left:
        text += f" Still to mark: {listing(left)}."
    for criterion, there, here in overruled:
        text += (
            f"\n**{escape(criterion.name)}** had been changed to {there} while this form was open. "
            f"Your newest mark stands: {here}."
        )
    mine = [one for one in entries if one.done or one.owed]
    text += f"\n{sum(one.done for one in mine)} of {count(len(mine), 'sheet')} done."
    home = Button(key=key("sheets.list"), label="My sheets")
    return Message(text=text, rows=((*_onward(entries), home),))


def entered(marks: Sequence[tuple[Criterion, int]]) -> str:
    """What a form held that could not be saved, so that it is not lost."""
    if not marks:
        return ""
    return " You had entered: " + listing([f"{escape(criterion.name)} {level}" for criterion, level in marks]) + "."


def sheets_out(entries: Sequence[Entry], opened: Sequence[str], closes: datetime) -> Message:
    """Told to a judge when sheets were handed out; `opened` are the names of the events."""
    mine = [entry for entry in entries if entry.owed]
    return Message(
        text=f"Judging is open: {listing([escape(name) for name in opened])}. You have {count(len(mine), 'sheet')}. "
        f"Please finish by {full(closes)}, {relative(closes)}.\n"
        "Mark one squad at a time, stop whenever you like, go on from any device.",
        rows=((*_onward(entries), Button(key=key("sheets.list"), label="My sheets")),),
    )


def still_open(entries: Sequence[Entry], closes: datetime, late: bool) -> Message:
    """The reminder to a judge who owes sheets: how many, for whom, until when, and the next one a press away."""
    mine = [entry for entry in entries if entry.done or entry.owed]
    owed = [entry for entry in mine if entry.owed]
    names = list(dict.fromkeys(escape(entry.squad.name) for entry in owed))
    shown = ", ".join(names[:8]) + (f" and {len(names) - 8} more" if len(names) > 8 else "")
    text = (
        f"{len(owed)} of your {count(len(mine), 'sheet')} {'is' if len(owed) == 1 else 'are'} still open: {shown}.\n"
        f"Please finish by {full(closes)}, {relative(closes)}."
    )
    if late:
        text += "\n-# I was off for a while, so this comes late."
    return Message(text=text, rows=((*_onward(entries), Button(key=key("sheets.list"), label="My sheets")),))


def one_more(squad: Squad, entries: Sequence[Entry]) -> Message:
    """Told to a judge who takes a squad over."""
    return Message(
        text=f"One more squad for you: **{escape(squad.name)}**. Another judge could not mark it. Thank you!",
        rows=((*_onward(entries), Button(key=key("sheets.list"), label="My sheets")),),
    )


def sheet_again(entry: Entry, reason: str) -> Message:
    """Told to a judge whose sheet the coach has opened again."""
    return Message(
        text=f"Your coach has opened your sheet for **{escape(entry.squad.name)}** again: {escape(reason)}\n"
        "Please look at it once more. It closes when every line is marked and saved.",
        rows=(
            (
                Button(key=key("sheets.mark", entry.sheet.id), label=_label("Look again", entry), style="main"),
                Button(key=key("sheets.list"), label="My sheets"),
            ),
        ),
    )
