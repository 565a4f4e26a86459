"""One score sheet: what stands in it, its forms, and what is said when it was saved."""

from collections.abc import Iterable, Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.conflicts_of_interest import is_offered
from bot.rules.judging.my_sheets import Entry
from bot.rules.judging.score_sheet import LONGEST_COMMENT, WHOLE, missing, steps
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SHEETS
from bot.words.core.choices import choice
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import cut, escape, quoted
from bot.words.judging.my_sheets import onward, see_hand_in, title, to_read
from storage.records.message import FORM_LABEL, MESSAGE_LENGTH, Button, Form, FormField, Message, RadioField, TextField
from storage.records.plan_measures import Criterion

REFUSALS = {
    Reason.SHEET_GONE: "That score sheet is no longer yours to mark.{entered} Press **My sheets** to see "
    "the ones that are.",
    Reason.JUDGING_SHUT: "Judging of this part is closed, so nothing was saved.{entered} Your coach can open a sheet "
    "again.",
    Reason.NO_SHEET_LEFT: "There is no sheet left to mark. Press **My sheets** to look at what you have marked.",
    Reason.RUBRIC_GONE: "The plan no longer has that part. Press **My sheets** to see what there is to mark.",
    Reason.LEVEL_GONE: "**{criterion}** has the levels 1 to {most}. Please open the sheet again and pick one of them.",
}


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
    late = not is_offered(entry)
    knows = Button(key=key(ActionKey.SHEETS_TIE_ASK, entry.squad.id), label="I know someone here", disabled=late)
    below: tuple[Button, ...] = (knows, MY_SHEETS)
    if entry.event.hand_in:
        below = (see_hand_in(entry, "See the hand-in"), *below)
    if typing and entry.changeable and missing(entry.rubric, entry.sheet.marks):
        below = (Button(key=key(ActionKey.SHEETS_TYPE, entry.sheet.id), label="Type the marks"), *below)
    return Message(text=cut("\n".join(lines), MESSAGE_LENGTH), rows=(_openings(entry), below))


def _openings(entry: Entry) -> tuple[Button, ...]:
    """The buttons that open the sheet: where it stopped, or, once it is done, any of its parts."""
    parts = len(steps(entry.rubric))
    if not entry.done or parts == 1:
        label = "Change" if entry.done else "Mark"
        opening = key(ActionKey.SHEETS_MARK, entry.sheet.id)
        return (Button(key=opening, label=label, style="main", disabled=not entry.changeable),)
    return tuple(
        Button(
            key=key(ActionKey.SHEETS_STEP, entry.sheet.id, number),
            label=f"Change part {number + 1}",
            disabled=not entry.changeable,
        )
        for number in range(parts)
    )


def mark(criterion: Criterion, level: int) -> str:
    """A level, with its descriptor."""
    return f"**{level}** of {len(criterion.levels)}: {escape(criterion.levels[level - 1])}"


def _name_of(entry: Entry, criterion: str) -> str:
    return next((escape(one.name) for one in entry.rubric.criteria if one.key == criterion), criterion)


def sheet_form(entry: Entry, number: int, opening: int) -> Form:
    """One step of a sheet, filled with what was saved.

    `opening` makes the key of every opening its own: an app would otherwise show what it kept of an earlier one.
    """
    parts = steps(entry.rubric)
    step = parts[number]
    fields: list[FormField] = []
    for criterion in step.criteria:
        fields.append(levels(criterion, entry.sheet.marks.get(criterion.key)))
        if criterion.key in step.comments:
            fields.append(comment_field(entry, criterion.key, f"Why? ({criterion.name})"))
    if WHOLE in step.comments:
        fields.append(comment_field(entry, WHOLE, "Comment"))
    return Form(
        key=key(ActionKey.SHEETS_SAVE, entry.sheet.id, number, entry.sheet.version, opening),
        title=form_title(entry, number, len(parts)),
        fields=tuple(fields),
    )


def form_title(entry: Entry, number: int, of: int) -> str:
    """The squad, which step this is, and what is judged where there is room for it."""
    part = f" ({number + 1} of {of})" if of > 1 else ""
    about = f" - {entry.event.name}{part}"
    if len(entry.squad.name) + len(about) <= FORM_LABEL:
        return entry.squad.name + about
    return cut(entry.squad.name, FORM_LABEL - len(part)) + part


def levels(criterion: Criterion, chosen: int | None) -> RadioField:
    """The levels of a criterion with their descriptors, all in view."""
    most = len(criterion.levels)
    choices = tuple(
        choice(level, f"{level} of {most}", descriptor, chosen=level == chosen)
        for level, descriptor in enumerate(criterion.levels, start=1)
    )
    return RadioField(
        key=f"level-{criterion.key}", label=cut(criterion.name, FORM_LABEL), choices=choices, required=False
    )


def comment_field(entry: Entry, about: str, label: str) -> TextField:
    """A comment on the whole sheet or on one criterion, filled with what was saved."""
    return TextField(
        key=f"note-{about}",
        label=cut(label, FORM_LABEL),
        hint="What you saw, and one next step. Coaches read it and may pass it on, without your name.",
        value=entry.sheet.comments.get(about, ""),
        long=True,
        most=LONGEST_COMMENT,
        required=False,
    )


def sheet_saved(
    entry: Entry, entries: Sequence[Entry], overruled: Sequence[tuple[Criterion, int, int]] = ()
) -> Message:
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
    home = MY_SHEETS
    return Message(text=text, rows=((*onward(entries), *to_read(entries), home),))


def more_parts(entry: Entry, number: int) -> Message:
    """A part of a sheet that the coach opened again was saved; the others may have to be looked at, too."""
    onward = Button(
        key=key(ActionKey.SHEETS_STEP, entry.sheet.id, number + 1), label=f"Look at part {number + 2}", style="main"
    )
    return Message(
        text=f"Saved: part {number + 1} of **{escape(entry.squad.name)}**. Is there more to change?",
        rows=((onward, Button(key=key(ActionKey.SHEETS_FINISH, entry.sheet.id), label="That was all")),),
    )


def finished(entry: Entry) -> Message:
    """A sheet that the coach opened again is closed."""
    return Message(text=f"Thank you! **{escape(entry.squad.name)}** is closed again.", rows=((MY_SHEETS,),))


def entered(marks: Sequence[tuple[Criterion, int]], comments: Iterable[str] = ()) -> str:
    """What a form held that could not be saved, so that it is not lost."""
    said = ""
    if marks:
        named = listing([f"{escape(criterion.name)} {level}" for criterion, level in marks])
        said = f" You had entered: {named}."
    return said + "".join(f"\n{quoted(escape(comment))}\n" for comment in comments if comment)
