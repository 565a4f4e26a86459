"""Squads as the coach sees them: all of them, one of them, founded, renamed."""

from collections.abc import Collection, Sequence
from datetime import datetime
from functools import partial

from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.names import LONGEST_UNITS, SHORTEST
from bot.rules.squads.small_squads import is_small
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, PEOPLE, SQUADS
from bot.words.core.choices import PAGE, choice, list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import cut, escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from bot.words.squads.captain import marked
from bot.words.squads.names import NAME_HINT
from bot.words.squads.small_squads import choices, wait_button
from bot.words.squads.undo_correction import undo_button
from storage.records.decisions_and_corrections import Correction
from storage.records.message import Button, Form, Message, Row, Select, SelectField, TextField
from storage.records.people import Squad, Student
from storage.records.plan import Plan

FOUND = Button(key=key(ClassKey.COACH_FOUND), label="Found a squad")
NOBODY, ADD_BELOW = "Nobody is in it yet.", " Add students below."
ENTER_FIRST = " Enter its students first: **People**, then **Enter a student**. Then open this page again."

REFUSALS = {
    Reason.SQUAD_WITHDRAWN: "That squad is no longer there. Open **People** again.",
}


def squads(
    found: Sequence[tuple[Squad, int]], plan: Plan, page: int, allowed: Collection[int] = frozenset(), said: str = ""
) -> Message:
    """Pick a squad; those that are too small are marked, but not those (by id) that are allowed to be.

    What was `said` of a squad that is not there any more comes first.
    """
    if not found:
        return Message(text=f"{said}There are no squads now.", rows=((FOUND, PEOPLE, BACK),))
    choices = [
        choice(
            squad.id,
            squad.name,
            cut(f"section {squad.section}, {count(members, 'member')}", 80)
            + (", too small" if is_small(plan, members, squad.id in allowed) else ""),
        )
        for squad, members in found
    ]
    turn = partial(key, ActionKey.PEOPLE_SQUADS)
    listed = list_page(choices, page, "Pick a squad", key(ActionKey.PEOPLE_SQUAD), turn)
    return Message(
        text=f"{said}**Squads** ({len(found)}){listed.line}",
        rows=(*listed.select, (*listed.turns, FOUND, PEOPLE, BACK)),
    )


def squad(  # noqa: PLR0913, PLR0917
    one: Squad,
    members: Sequence[Student],
    small: bool,
    last: Correction | None = None,
    could: Sequence[Student] = (),
    free: int = 0,
    until: datetime | None = None,
    page: int = 0,
) -> Message:
    """One squad, and what the coach can do. `small` if it is too small and was not allowed to be.

    `could` are students of the section without a squad, for whom there are so many `free` seats. They have
    `until` then to find members, or had.
    """
    names = [marked(escape(member.name), member.id, one) for member in members]
    text = f"**{escape(one.name)}**, squad {one.number}, section {escape(one.section)}\n{listing(names) or NOBODY}"
    if not members:
        text += ADD_BELOW if could else ENTER_FIRST
    elif small:
        text += "\nIt has fewer members than the plan says: wait for more, let it be small, merge it, or take it out."
    if small and until is not None:
        text += f"\nTime to find members: until {full(until)}."
    wait = (wait_button(one),) if small else ()
    rename = Button(key=key(ActionKey.PEOPLE_RENAME, one.id), label="Rename")
    more_time = Button(key=key(ClassKey.MORE_TIME, one.id), label="More time to hand in")
    undo = (undo_button(last),) if last else ()
    paper = Button(key=key(ClassKey.PRINT_SQUAD, one.id), label="Brief and notices on paper")
    fate = choices(one) if small else choices(one)[1:]
    others = [choice(other.id, other.name) for other in could] if free else []
    prompt, turn = "Add students without a squad", partial(key, ActionKey.PEOPLE_SQUAD, one.id)
    listed = list_page(others, page, prompt, key(ClassKey.COACH_FILLED, one.id), turn, most=free)
    rows: list[Row] = [(*wait, *fate), (rename, more_time, paper, *undo)]
    rows += listed.select
    if members:
        here = tuple(choice(member.id, member.name) for member in members[:PAGE])
        rows.append(Select(key=key(ActionKey.PEOPLE_STUDENT), prompt="Open a member", choices=here))
    rows.append((SQUADS, PEOPLE, BACK, *listed.turns))
    if members and all(member.platform_id is None for member in members):
        text += "\n-# Nobody here has an account: you book, hand in and answer for this squad."
    return Message(text=text + listed.line, rows=tuple(rows))


def rename_form(one: Squad) -> Form:
    """Another name for a squad whose own is unkind."""
    field = TextField(
        key="squad", label="New name", hint="The squad is told.", value=one.name, least=SHORTEST, most=LONGEST_UNITS
    )
    return Form(key=key(ActionKey.PEOPLE_RENAMED, one.id), title="Rename a squad", fields=(field,))


@posted(Sign.SQUAD)
def renamed_by_coach(name: str) -> Message:
    """Told in the room of a squad that the coach renamed."""
    return Message(text=f"Your coach has renamed your squad: it is **{escape(name)}** now.")


def found_form(plan: Plan) -> Form:
    """What it is called, and its section."""
    choices = tuple(choice(one, one) for one in plan.sections)
    return Form(
        key=key(ClassKey.COACH_FOUNDED),
        title="Found a squad",
        fields=(
            TextField(key="squad", label="Name of the squad", hint=NAME_HINT, most=LONGEST_UNITS),
            SelectField(key="section", label="Section", choices=choices),
        ),
    )
