"""Two squads become one: what follows, asked and told."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.merge_squads import COUNTS_AT_FIRST, Done, asked
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, SQUADS
from bot.words.core.choices import choice, list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import cut, escape
from bot.words.core.signs import Sign, posted
from bot.words.core.typed_reason import REASON
from storage.records.message import FORM_LABEL, Button, Form, Message, RadioField
from storage.records.people import Squad, Student
from storage.records.plan import Event

THEIRS = "goes"
"""The answer that what the squad that goes has done counts."""
MORE_DONE = (
    "**Something has been recorded for these squads since you looked, so they are still two.** As it stands now:"
)
REFUSALS = {
    Reason.MERGE_SAME: "That is the same squad. Pick another one.",
    Reason.MERGE_LATE: "Squads can be made one from sign-up on until judging is closed.",
}


def pick_squad(goes: Squad, found: Sequence[tuple[Squad, int]], page: int) -> Message:
    """Pick the squad that the other one becomes part of; small ones of the same section come first."""
    if not found:
        return Message(text="There is no other squad.", rows=((SQUADS, BACK),))
    choices = [choice(one.id, one.name, f"section {one.section}, {count(size, 'member')}") for one, size in found]
    pick = key(ClassKey.MERGE_ASK, goes.id)
    listed = list_page(choices, page, "Pick a squad", pick, lambda turn: key(ClassKey.MERGE_PICK, turn, goes.id))
    return Message(
        text=f"Which squad does **{escape(goes.name)}** become part of?{listed.line}",
        rows=(*listed.select, (*listed.turns, SQUADS, BACK)),
    )


def sure_to_merge(
    goes: Squad,
    stays: Squad,
    members: Sequence[Sequence[Student]],
    turns: int,
    done: Sequence[Done],
    too_large: bool,
    changed: bool = False,
) -> Message:
    """What follows when the two become one; `members` of the one that goes, then of the one that stays.

    `changed`: something else was shown before, so that nothing has been done yet.
    """
    come, there = (listing([escape(one.name) for one in group]) or "nobody" for group in members)
    verb = "comes" if len(members[0]) < 2 else "come"
    lines = [
        *([MORE_DONE] if changed else []),
        f"**{escape(goes.name)}** becomes part of **{escape(stays.name)}**.",
        f"- {come} {verb} to {there}, with their parts of the hand-in, and into the room of **{escape(stays.name)}**",
        f"- {count(turns, 'turn')} at the practice table and the squad's questions come along"
        if turns
        else "- the squad's questions come along",
        f"- the name and the room of **{escape(goes.name)}** go",
    ]
    for one in done:
        what = f"**{escape(one.event.name)}**: {_what(one)} of **{escape(goes.name)}**"
        if not one.both:
            lines.append(f"- {what} count for **{escape(stays.name)}**, which has none")
        else:
            lines.append(f"- {what}, but **{escape(stays.name)}** has some, too. {_which(one, stays, done)}")
    if too_large:
        lines.append("- the squad is then larger than the plan says; your reason is shown with the result")
    lines.append(
        "- judges who may not mark one of the two may not mark the new one; where one is missing, I will tell you"
    )
    why = Button(key=key(ClassKey.MERGE_WHY, goes.id, stays.id, stamp_of(done)), label="Make them one", style="danger")
    return Message(text="\n".join(lines), rows=((why, SQUADS, BACK),))


def stamp_of(done: Sequence[Done]) -> str:
    """What button and form carry of what the squads have done, so that nothing recorded since is decided unseen."""
    return shown_stamp([(one.event.key, one.attempts, one.sheets, one.both) for one in done])


def _what(one: Done) -> str:
    found = [count(one.attempts, "attempt")] * bool(one.attempts) + [count(one.sheets, "score sheet")] * bool(
        one.sheets
    )
    return " and ".join(found)


def _which(one: Done, stays: Squad, done: Sequence[Done]) -> str:
    if one in asked(done):
        return "You say which count; the others stay on record."
    return f"Those of **{escape(stays.name)}** count; the others stay on record."


def reason_form(goes: Squad, stays: Squad, done: Sequence[Done]) -> Form:
    """The reason, and where both squads have been scored, whose attempts and sheets count; sending it is the yes."""
    which = tuple(
        RadioField(
            key=one.field,
            label=cut(f"{one.event.name}: whose count?", FORM_LABEL),
            hint="Attempts and score sheets; the others stay on record.",
            choices=(
                choice("stays", stays.name, chosen=COUNTS_AT_FIRST == "stays"),
                choice(THEIRS, goes.name, chosen=COUNTS_AT_FIRST == THEIRS),
            ),
        )
        for one in asked(done)
    )
    return Form(
        key=key(ClassKey.MERGED, goes.id, stays.id, stamp_of(done)),
        title="Make two squads one",
        fields=(REASON, *which),
    )


def judges_missing(squad: Squad, lacking: Sequence[tuple[Event, int, int]]) -> Message:
    """Told in the office: where fewer judges than wanted see the new squad, and nobody was free to step in."""
    lines = [f"- **{escape(event.name)}**: {count(mine, 'judge')} of {wanted}" for event, mine, wanted in lacking]
    panels = Button(key=key(ActionKey.PANELS_PANEL), label="Panels", style="main")
    return Message(
        text="\n".join([f"**{escape(squad.name)}** lacks judges after two squads were made one:", *lines]),
        rows=((panels,),),
    )


@posted(Sign.SQUAD)
def told(goes: Squad, newcomers: Sequence[Student], turns: int) -> Message:
    """Told in the room of the squad that stays."""
    names = listing([escape(one.name) for one in newcomers])
    welcome = f" Welcome: {names}." if names else ""
    more = f" You also have {count(turns, 'more turn')} at the practice table." if turns else ""
    return Message(text=f"**{escape(goes.name)}** is part of your squad now.{welcome}{more}")
