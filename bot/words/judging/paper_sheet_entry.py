"""Score sheets from paper are typed in twice: whose, the forms, and what is shown when the two entries differ."""

from collections.abc import Mapping, Sequence
from functools import partial

from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.my_sheets import Entry
from bot.rules.judging.paper_sheet_entry import MOST_TO_SETTLE
from bot.rules.judging.score_sheet import WHOLE, Marks, Step, steps
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SHEETS, RUN_SHEETS
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count
from bot.words.core.plain_text import cut, escape
from bot.words.core.signs import Sign, posted
from bot.words.judging.judges_overview import who
from bot.words.judging.score_sheet import comment_field, levels
from storage.records.message import FORM_LABEL, Button, Form, FormField, Message
from storage.records.people import Judge
from storage.records.plan_measures import Criterion

REFUSALS = {
    Reason.PAPER_BEGUN: "{judge} has begun to mark **{squad}** here already ({state}). Nothing was typed in.",
    Reason.PAPER_DONE: "The sheet of {judge} for **{squad}** is in already.",
    Reason.PAPER_SHUT: "That part is not open for judging, so that nothing can be typed in.",
    Reason.PAPER_SET_ASIDE: "{judge} does not mark **{squad}**, so the sheet does not count. Nothing was typed in.",
    Reason.PAPER_FIRST: "Please hand in your own sheet for **{squad}** first; you would see another judge's marks.",
    Reason.PAPER_TWO_PEOPLE: "You typed this sheet in the first time. Somebody else types it in the second time: "
    "a coach, or a typist whom the coach adds under **People**.",
    Reason.PAPER_OLD: "Somebody else has typed this sheet in meanwhile. Please open it again from the list.",
}


def pick_judge(judges: Sequence[tuple[Judge, int]], page: int) -> Message:
    """Pick whose paper sheets are typed in; with how many are still missing."""
    if not judges:
        return Message(text="No score sheet of a judge is missing.", rows=((RUN_SHEETS,),))
    choices = [choice(one.id, one.name, f"{count(missing, 'sheet')} missing") for one, missing in judges]
    turn = partial(key, ActionKey.PAPER_ENTER)
    listed = list_page(choices, page, "Pick the judge", key(ActionKey.PAPER_ENTER_JUDGE, 0), turn)
    return Message(text="Whose paper sheets do you type in?" + listed.line, rows=(*listed.rows, (RUN_SHEETS,)))


def pick_sheet(judge: Judge, entries: Sequence[Entry], typed: Mapping[int, int], page: int) -> Message:
    """Pick the squad on the paper; the name beside the number keeps marks from going to the wrong one."""
    back = Button(key=key(ActionKey.PAPER_ENTER), label="Another judge")
    if not entries:
        return Message(text=f"All sheets of {who(judge)} are in.", rows=((back,),))
    choices = [
        choice(
            one.sheet.id,
            f"{one.squad.number} - {one.squad.name}",
            f"{one.event.name}{', typed in once' if typed.get(one.sheet.id) else ''}",
        )
        for one in entries
    ]
    listed = list_page(
        choices,
        page,
        "Pick the squad",
        key(ActionKey.PAPER_ENTRY),
        lambda number: key(ActionKey.PAPER_ENTER_PAGE, number, judge.id),
    )
    text = f"Paper sheets of **{who(judge)}**: which squad stands on top?{listed.line}"
    return Message(text=text, rows=(*listed.select, (*listed.turns, back)))


def entry_form(entry: Entry, number: int, at: int, marks: Marks, opening: int) -> Form:
    """One step of a paper sheet; the second time nothing of the first is shown."""
    parts = steps(entry.rubric)
    step: Step = parts[at]
    fields: list[FormField] = []
    for criterion in step.criteria:
        fields.append(levels(criterion, marks.get(criterion.key)))
        if number == 1 and criterion.key in step.comments:
            fields.append(comment_field(entry, criterion.key, f"Comment ({criterion.name})"))
    if number == 1 and WHOLE in step.comments:
        fields.append(comment_field(entry, WHOLE, "Comment"))
    part = f" ({at + 1} of {len(parts)})" if len(parts) > 1 else ""
    word = "again: " if number == 2 else ""
    return Form(
        key=key(ActionKey.PAPER_SAVE, entry.sheet.id, number, at, opening),
        title=cut(f"{word}{entry.squad.name}", FORM_LABEL - len(part)) + part,
        fields=tuple(fields),
    )


def go_on(entry: Entry, judge: Judge, number: int, left: Sequence[str]) -> Message:
    """One step is typed in; the next one follows."""
    step = Button(key=key(ActionKey.PAPER_STEP, entry.sheet.id, number), label="Go on typing", style="main")
    return Message(
        text=f"Kept. Still to type for {_which(entry, judge)}: {', '.join(map(escape, left))}.", rows=((step,),)
    )


def once(entry: Entry, judge: Judge) -> Message:
    """The first entry is whole; it waits for the second."""
    return Message(
        text=f"Typed in once: {_which(entry, judge)}. "
        "It counts when somebody else has typed it in from the paper, too.",
        rows=((_next_sheet(judge),),),
    )


def paper_entry_saved(entry: Entry, judge: Judge, settled: bool) -> Message:
    """Both entries agree, or the difference was settled: the sheet is in."""
    why = "Settled from the paper" if settled else "Both entries agree"
    return Message(text=f"{why}. The sheet of {_which(entry, judge)} is in.", rows=((_next_sheet(judge),),))


def _next_sheet(judge: Judge) -> Button:
    return Button(key=key(ActionKey.PAPER_ENTER_PAGE, 0, judge.id), label="Next paper sheet", style="main")


@posted(Sign.JUDGING)
def typed_for_you(entry: Entry) -> Message:
    """Told to the judge whose paper sheet was typed in."""
    return Message(
        text=f"Two people typed in your paper sheet for **{escape(entry.squad.name)}** ({escape(entry.event.name)}). "
        "Please check it. If it is not yours, tell your coach.",
        rows=((MY_SHEETS,),),
    )


def typed_in(entry: Entry, judge: Judge, told: bool) -> Message:
    """Told in the office: whose sheet was typed in twice; `told`: by others, so that the judge reads it too."""
    also = " The judge has been told." if told else ""
    return Message(text=f"The paper sheet of {_which(entry, judge)} was typed in by two people.{also}")


def differ(entry: Entry, judge: Judge, found: Sequence[tuple[Criterion, int, int]]) -> Message:
    """The two entries differ; nothing is saved before the paper was looked at again.

    When they differ in many lines, one of them is of another sheet, and both have to be typed again.
    """
    lines = [f"**The two entries differ**: {_which(entry, judge)}. Nothing is saved yet. Look at the paper again:"]
    lines += [f"- {escape(criterion.name)}: first {first}, then {second}" for criterion, first, second in found]
    return Message(
        text="\n".join(lines),
        rows=(
            (
                Button(
                    key=key(ActionKey.PAPER_SETTLE, entry.sheet.id),
                    label="Settle it",
                    style="main",
                    disabled=len(found) > MOST_TO_SETTLE,
                ),
                Button(key=key(ActionKey.PAPER_AGAIN, entry.sheet.id), label="Type both again"),
            ),
        ),
    )


def settle_form(entry: Entry, criteria: Sequence[Criterion], opening: int) -> Form:
    """Only what differed, from the paper; nothing is chosen beforehand."""
    return Form(
        key=key(ActionKey.PAPER_SETTLED, entry.sheet.id, opening),
        title=cut(f"As on the paper: {entry.squad.name}", FORM_LABEL),
        fields=tuple(levels(criterion, None) for criterion in criteria[:MOST_TO_SETTLE]),
    )


def started_over(entry: Entry, judge: Judge) -> Message:
    """Both entries are thrown away."""
    begin = Button(key=key(ActionKey.PAPER_STEP, entry.sheet.id, 1), label="Type it in", style="main")
    return Message(text=f"Both entries for {_which(entry, judge)} are thrown away.", rows=((begin,),))


def _which(entry: Entry, judge: Judge) -> str:
    return f"{who(judge)}, squad {entry.squad.number}, **{escape(entry.squad.name)}**"
