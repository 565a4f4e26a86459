"""A student leaves for good."""

from bot.words.core.choices import choice
from bot.words.core.class_keys import ClassKey
from bot.words.core.keys import key
from storage.records.message import Form, RadioField, TextField
from storage.records.people import Student

FORMER = "somebody who has left"
"""Whose part it is, where it stays with the squad."""


def dropout_form(one: Student, has_parts: bool) -> Form:
    """Why, and whether the part stays."""
    parts = RadioField(
        key="parts",
        label="The part of the hand-in",
        hint="Where it stays, squad and judges read it; shares count members only.",
        choices=(
            choice("stay", "Stays with the squad", "unless the student hands in elsewhere"),
            choice("go", "Goes with the student"),
        ),
    )
    why = TextField(key="reason", label="Why?", hint="No names, please.", least=3, most=200)
    return Form(
        key=key(ClassKey.DROPPED_OUT, one.id),
        title="Leaves for good",
        fields=(why, *((parts,) if has_parts else ())),
    )
