"""Answers to what a judge types: what was saved, what comes next, and how it is meant."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.my_sheets import Entry
from bot.rules.judging.score_sheet import missing
from bot.words.core.buttons import MY_SHEETS
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.judging.my_sheets import title
from bot.words.judging.score_sheet import mark
from storage.records.message import Message
from storage.records.plan_measures import Criterion

REFUSALS = {
    Reason.TYPED_TOO_MANY: "You typed {given} numbers, but **{squad}** has only {left} left to mark. Nothing was "
    "saved.",
    Reason.TYPED_LEVEL: "**{criterion}** has the levels 1 to {most}, so {level} cannot be right. Nothing was saved.",
    Reason.TYPED_NOTHING: "There is no sheet left to mark. To change a mark, type **list** and pick the sheet.",
    Reason.TYPED_COMMENT_LONG: "That is too long, and nothing of it was saved: there is room for {room} characters "
    "more. Type a shorter one, or change the comment in the form of the sheet.",
    Reason.TYPED_NO_COMMENT: "There is no sheet to which the comment belongs. Mark something first, or use the "
    "buttons.",
    Reason.TYPED_NO_UNDO: "There is nothing to take back.",
    Reason.TYPED_ALL_MARKED: "Every line of **{squad}** is marked. To change one, press **Change**.",
}


def typed_marks_saved(
    before: Entry, marks: Sequence[tuple[Criterion, int]], now: Entry, following: Entry | None
) -> Message:
    """What was typed is saved; and what the next number is for."""
    lines = [f"**{escape(before.squad.name)}**"]
    lines += [f"{escape(one.name)}: {mark(one, level)}" for one, level in marks]
    if now.done:
        lines.append(f"All {now.criteria} marked: this sheet is done. Type **undo** to take that back.")
    if following is None:
        lines.append("No sheet is left to mark. Thank you!")
        return _fit(lines)
    return _fit([*lines, "", *_prompt(following)])


def prompt(entry: Entry) -> Message:
    """What the next number is for."""
    return _fit(_prompt(entry))


def commented(entry: Entry, added: bool = False) -> Message:
    """The comment is saved; `added`: below one that was there."""
    what = "Added to your comment on" if added else "Comment saved with"
    return _fit([f"{what} **{escape(entry.squad.name)}**. Coaches read it and may pass it on, without your name."])


def undone(entry: Entry) -> Message:
    """The last change is taken back."""
    return _fit(
        [
            f"Taken back. **{escape(entry.squad.name)}** is as it was: {entry.marked} of {entry.criteria} marked.",
            "Type **undo** once more to have it again.",
            *(["", *_prompt(entry)] if missing(entry.rubric, entry.sheet.marks) else []),
        ]
    )


def usage(entry: Entry | None) -> Message:
    """What can be typed."""
    lines = [
        "You can mark by typing. A number is the level of the next line: `3`. Several at once: `3 4 2`.",
        "Also: `undo`, `next` (another squad), `list`, and `comment` followed by your words.",
    ]
    return _fit([*lines, "", *_prompt(entry)] if entry else lines)


def _prompt(entry: Entry) -> list[str]:
    criterion = missing(entry.rubric, entry.sheet.marks)[0]
    return [
        f"Now **{escape(entry.squad.name)}**, {title(entry)}",
        f"**{escape(criterion.name)}**",
        *(f"{level} - {escape(text)}" for level, text in enumerate(criterion.levels, start=1)),
        "Type the number.",
    ]


def _fit(lines: Sequence[str]) -> Message:
    return whole_message("\n".join(lines), ((MY_SHEETS,),))
