"""The hand-in as the coach sees it: one student's part, and what can be done about it."""

from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.typed_reason import LONGEST_REASON, SHORTEST_REASON
from bot.rules.hand_in.parts_admin import is_for_coach
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, STUDENTS
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import cut, escape
from bot.words.core.who_reads import who_reads
from bot.words.hand_in.member_parts import Reading, photo_fields, why_field
from storage.records.hand_in import Part
from storage.records.message import FORM_LABEL, Button, Form, FormField, Message, TextField
from storage.records.people import Squad, Student
from storage.records.plan import Event

REFUSALS = {
    Reason.HAND_IN_OVER: "The result is announced, so nothing is added to the hand-in any more.",
    Reason.HAND_IN_OWN_WORDS: "**{student}** has written this part. Only {student} can change it; you can take it out.",
    Reason.HAND_IN_LATE: "The deadline has passed. Please say in a few words why this part is entered late.",
}


def student(event: Event, one: Student, squad: Squad, part: Part | None, late: bool) -> Message:
    """One student's part, and what the coach can do about it."""
    lines = [f"**{escape(event.name)}**: the part of **{escape(one.name)}** in **{escape(squad.name)}**"]
    if part is None:
        lines.append("Nothing has been handed in. You can enter it for this student, or let it be.")
        if late:
            lines.append("-# The deadline has passed: it takes a reason.")
    else:
        lines.append(f"> {escape(part.reason)}")
        lines.append("With a photo." if part.photo_sha256 else "Without a photo.")
        if part.by_coach:
            lines.append("-# Entered by a coach.")
        if part.late_reason:
            lines.append(f"-# Entered after the deadline: {escape(part.late_reason)}")
    buttons = []
    if is_for_coach(part):
        label = "Enter the part" if part is None else "Change the part"
        buttons.append(Button(key=key(ActionKey.HAND_IN_ENTER, one.id, event.key), label=label, style="main"))
    if part is not None:
        buttons.append(
            Button(key=key(ActionKey.HAND_IN_REMOVE, one.id, event.key), label="Take it out", style="danger")
        )
    buttons.append(Button(key=key(ActionKey.HAND_IN_SQUAD, 0, squad.id, event.key), label="All parts of the squad"))
    back = (STUDENTS, BACK)
    return Message(text="\n".join(lines), rows=(tuple(buttons), back))


def coach_part_form(event: Event, one: Student, part: Part | None, late: bool) -> Form:
    """A part that the coach enters for a student; after the deadline with the reason for that."""
    fields: list[FormField] = [
        why_field("What is this student's part, and why?", part, mine=False),
        *photo_fields(part),
    ]
    if late:
        fields.append(
            TextField(
                key="late",
                label="Why is it late?",
                hint=f"{who_reads('late-part', 'it')} No health details, please.",
                value=part.late_reason if part else "",
                least=SHORTEST_REASON,
                most=LONGEST_REASON,
            )
        )
    title = cut(f"The part of {one.name}: {event.name}", FORM_LABEL)
    return Form(key=key(ActionKey.HAND_IN_ENTERED, one.id, event.key), title=title, fields=tuple(fields))


def kept(event: Event, one: Student, photo: str) -> Message:
    """The part is kept; `photo` says why its photo could not be. Its words are not said again: answers are kept."""
    text = f"The part of **{escape(one.name)}** is saved."
    if photo:
        text = f"The words of **{escape(one.name)}** are saved, but not the photo. {photo}"
    return Message(text=text, rows=(_onward(event, one, "See the part"),))


def removed(event: Event, one: Student) -> Message:
    """The part is deleted."""
    return Message(text=f"The part of **{escape(one.name)}** is deleted.", rows=(_onward(event, one, "Go on"),))


def _onward(event: Event, one: Student, label: str) -> tuple[Button, ...]:
    return (
        Button(key=key(ActionKey.HAND_IN_STUDENT, one.id, event.key), label=label),
        STUDENTS,
        BACK,
    )


def sure_to_remove(event: Event, one: Student, squad: Squad) -> Message:
    """Ask once before a part is deleted."""
    return Message(
        text=f"Take the part of **{escape(one.name)}** out of **{escape(event.name)}** of **{escape(squad.name)}**? "
        "Words and photo are deleted. The message in the squad's room then shows it as missing.",
        rows=(
            (
                Button(key=key(ActionKey.HAND_IN_REMOVED, one.id, event.key), label="Yes, take it out", style="danger"),
                Button(key=key(ActionKey.HAND_IN_STUDENT, one.id, event.key), label="No, keep it"),
            ),
        ),
    )


def reading(event: Event, squad: Squad, members: int) -> Reading:
    """The coach reads the parts of a squad."""
    return Reading(members, ActionKey.HAND_IN_SQUAD, (squad.id, event.key))
