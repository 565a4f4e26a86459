"""A student leaves for good."""

from bot.rules.core.typed_reason import LONGEST_REASON, SHORTEST_REASON
from bot.words.core.choices import choice
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape
from bot.words.core.who_reads import who_reads
from storage.records.message import Form, Message, RadioField, TextField
from storage.records.people import Squad, Student


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
    hint = f"{who_reads('leaver', 'it')} No health details, please."
    why = TextField(key="reason", label="Why?", hint=hint, least=SHORTEST_REASON, most=LONGEST_REASON)
    return Form(
        key=key(ClassKey.DROPPED_OUT, one.id),
        title="Leaves for good",
        fields=(why, *((parts,) if has_parts else ())),
    )


def to_office(one: Student, squad: Squad, reason: str) -> Message:
    """Told in the office, and nowhere else: who has left, and why."""
    return Message(text=f"**{escape(one.name)}** has left **{escape(squad.name)}** for good. Why: {escape(reason)}")
