"""A student is placed by the coach: which squad, and why one that the plan does not give."""

from collections.abc import Sequence
from functools import partial

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, STUDENTS
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from bot.words.core.typed_reason import REASON
from storage.records.message import (
    Button,
    Form,
    Message,
)
from storage.records.people import Squad, Student
from storage.records.plan import Plan

REFUSALS = {
    Reason.SAME_SQUAD: "**{student}** is in **{squad}** already.",
}


def pick_squad(
    one: Student, squads: Sequence[tuple[Squad, int]], plan: Plan, page: int, has_part: bool = False
) -> Message:
    """Pick the squad for a student; `squads` come with their members, in order.

    `has_part`: something was handed in that belongs to the squad in which the student is now.
    """
    if not squads:
        none = "There is no squad yet." if one.squad_id is None else "There is no other squad."
        return Message(text=none, rows=((STUDENTS, BACK),))
    choices = [
        choice(squad.id, squad.name, f"section {squad.section}, {members} of {plan.squads.largest}")
        for squad, members in squads
    ]
    turn = partial(key, ActionKey.PEOPLE_PLACE, one.id)
    listed = list_page(choices, page, "Pick a squad", key(ActionKey.PEOPLE_PLACED, one.id), turn)
    below = (*listed.turns, STUDENTS, BACK)
    text = f"Which squad for **{escape(one.name)}**?"
    if has_part:
        text += "\n-# The part of the hand-in belongs to the squad of now: in another squad it is handed in anew."
    return Message(text=text + listed.line, rows=(*listed.select, below))


def needs_reason(one: Student, squad: Squad, plan: Plan) -> Message:
    """The plan does not give this seat, because of the section or the size: it takes a reason."""
    why = f"**{escape(squad.name)}** is full: {plan.squads.largest} is the most."
    if one.section != squad.section:
        why = f"**{escape(squad.name)}** is for section {escape(squad.section)}."
    return Message(
        text=f"{why}\nYou can still place **{escape(one.name)}** there, with a reason that is shown with the result.",
        rows=(
            (
                Button(
                    key=key(ActionKey.PEOPLE_EXCEPT, one.id, squad.id),
                    label="Place anyway, with a reason",
                    style="danger",
                ),
                Button(key=key(ActionKey.PEOPLE_PLACE, one.id, 0), label="Another squad"),
            ),
        ),
    )


def except_form(one: Student, squad: Squad) -> Form:
    """The reason for a seat that the plan does not give."""
    return Form(key=key(ActionKey.PEOPLE_EXCEPTED, one.id, squad.id), title="Place anyway", fields=(REASON,))
