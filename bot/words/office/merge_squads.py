"""Two squads become one: what follows, asked and told."""

from collections.abc import Sequence

from bot.rules.core.class_reasons import ClassReason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.class_keys import ClassKey
from bot.words.core.keys import key
from bot.words.core.pages import page_line, turning, within
from bot.words.core.plain_text import count, cut, escape, listing
from bot.words.core.signs import Sign, posted
from storage.records.message import Button, Choice, Form, Message, Select, TextField
from storage.records.people import Squad, Student

PAGE = 25
SQUADS = Button(key=key(ActionKey.PEOPLE_SQUADS, 0), label="Squads")
REFUSALS = {
    ClassReason.MERGE_SAME: "That is the same squad. Pick another one.",
    ClassReason.MERGE_LATE: "Squads can be made one from sign-up on until judging is closed.",
}


def pick_squad(goes: Squad, found: Sequence[tuple[Squad, int]], page: int) -> Message:
    """Pick the squad that the other one becomes part of; small ones of the same section come first."""
    if not found:
        return Message(text="There is no other squad.", rows=((SQUADS, BACK),))
    pages = -(-len(found) // PAGE)
    page = within(page, pages)
    choices = tuple(
        Choice(value=str(one.id), label=cut(one.name, 100), note=f"section {one.section}, {count(size, 'member')}")
        for one, size in found[page * PAGE : (page + 1) * PAGE]
    )
    return Message(
        text=f"Which squad does **{escape(goes.name)}** become part of?" + page_line(page, pages),
        rows=(
            Select(key=key(ClassKey.MERGE_ASK, goes.id), prompt="Pick a squad", choices=choices),
            (*turning(ClassKey.MERGE_PICK, page, pages, goes.id), SQUADS, BACK),
        ),
    )


def sure_to_merge(
    goes: Squad,
    stays: Squad,
    members: Sequence[Sequence[Student]],
    turns: int,
    attempts: int,
    sheets: int,
    too_large: bool,
) -> Message:
    """What follows when the two become one; `members` of the one that goes, then of the one that stays."""
    come, there = (listing([escape(one.name) for one in group]) or "nobody" for group in members)
    lines = [
        f"**{escape(goes.name)}** becomes part of **{escape(stays.name)}**.",
        f"- {come} come to {there}, with their parts of the hand-in, and into the room of **{escape(stays.name)}**",
        f"- {count(turns, 'turn')} at the practice table and all questions come along",
        f"- the name and the room of **{escape(goes.name)}** go",
    ]
    if attempts or sheets:
        lines.append(
            f"- {count(attempts, 'attempt')} and {count(sheets, 'score sheet')} of **{escape(goes.name)}** stay on "
            "record and count no more"
        )
    if too_large:
        lines.append("- the squad is then larger than the plan says; your reason is shown with the result")
    lines.append("- judges who know somebody of either squad know one of the new one: look at the panels afterwards")
    why = Button(key=key(ClassKey.MERGE_WHY, goes.id, stays.id), label="Make them one", style="danger")
    return Message(text="\n".join(lines), rows=((why, SQUADS, BACK),))


def reason_form(goes: Squad, stays: Squad) -> Form:
    """The reason; sending it is the yes."""
    reason = TextField(
        key="reason", label="Why?", hint="It is shown with the result. No names, please.", least=3, most=200
    )
    return Form(key=key(ClassKey.MERGED, goes.id, stays.id), title="Make two squads one", fields=(reason,))


@posted(Sign.SQUAD)
def told(goes: Squad, newcomers: Sequence[Student], turns: int) -> Message:
    """Told in the room of the squad that stays."""
    names = listing([escape(one.name) for one in newcomers]) or "Nobody"
    more = f" You also have {count(turns, 'more turn')} at the practice table." if turns else ""
    return Message(text=f"**{escape(goes.name)}** is part of your squad now. Welcome: {names}.{more}")
